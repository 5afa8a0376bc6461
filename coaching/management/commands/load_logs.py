from coaching.management.loader_command import LoaderCommand


class Command(LoaderCommand):
    kind = "logs"
    help = """Load training logs from a CSV or XLSX file: one row a set, whole sessions.

Columns: client, performed_on, block, week, session, exercise, set, reps, load, unit, rest_s, warm_up, minutes, rpe,
pain, pain_region, note, submission; client and performed_on are needed, and with any column about sets exercise and
reps; a file without those says who trained, and no more. Minutes, rpe, pain and note stand in the first row of a
session. The same file again changes nothing; a corrected one replaces what it corrects.

  python manage.py load_logs logs.csv --check
  python manage.py load_logs logs.xlsx --studio "North Street"
"""
