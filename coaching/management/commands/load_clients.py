from coaching.management.loader_command import LoaderCommand


class Command(LoaderCommand):
    kind = "clients"
    help = """Load clients from a CSV or XLSX file: one row a client.

Columns: client, name, email, time_zone, unit, joined_on, sends, minutes, kit, pauses, goal; client and joined_on are
needed. A row of a key that is there already updates that client. A row is your word that this person agreed to a
training record.

  python manage.py load_clients clients.csv --check
  python manage.py load_clients clients.xlsx --studio "North Street"
"""
