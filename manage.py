#!/usr/bin/env python
import os
import sys


def main() -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "coaching.settings")
    from django.core.exceptions import ImproperlyConfigured
    from django.core.management import execute_from_command_line
    from django.db import DatabaseError, OperationalError

    from coaching.databases.faults import find_fault, in_words

    try:
        execute_from_command_line(sys.argv)
    except ImproperlyConfigured as fault:
        print(f"Muster can't run like this: {fault}", file=sys.stderr)
        sys.exit(2)
    except DatabaseError as fault:
        if not isinstance(fault, OperationalError) and find_fault(fault) is None:
            raise
        print(f"The database can't be used: {in_words(fault)}", file=sys.stderr)
        sys.exit(2)


if __name__ == "__main__":
    main()
