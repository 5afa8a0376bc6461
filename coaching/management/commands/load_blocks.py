from coaching.management.loader_command import LoaderCommand


class Command(LoaderCommand):
    kind = "blocks"
    help = """Load blocks from a CSV or XLSX file, one row a planned exercise, and publish them.

Columns: client, block, starts_on, week, day, session, slot, exercise, implement, count, sets, reps, load, unit,
rest_s, changed; client, block, starts_on, week, day, exercise, sets and reps are needed. A block that is there already
becomes what the file says. Publishing is your word that this person was asked about their health.

  python manage.py load_blocks blocks.csv --check
  python manage.py load_blocks blocks.xlsx --studio "North Street"
"""
