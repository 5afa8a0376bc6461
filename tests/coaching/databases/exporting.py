"""A process of its own: loads three files into the empty database of DATABASE_URL, and writes every export of it.

exporting.py FILES OUT, where FILES is a folder with clients.csv, blocks.csv and logs.csv.
"""

from __future__ import annotations

import os
import sys
from datetime import date
from pathlib import Path

# In the middle of the training, and after all of it.
DAYS = (date(2026, 10, 14), date(2026, 12, 1))
# Few at a time, so that a small roster comes in as many parts as a large one.
CLIENTS_AT_ONCE = 5


def export_everything(files: Path, out: Path) -> None:
    from django.core.management import call_command

    from coaching.monitoring.export_formats import FORMATS
    from coaching.monitoring.fact_shapes import COLUMNS
    from coaching.monitoring.refresh import shards

    assert shards.__kwdefaults__ is not None
    shards.__kwdefaults__["size"] = CLIENTS_AT_ONCE
    call_command("migrate", verbosity=0, interactive=False)
    call_command("open_studio", "North Street", owner="ana@example.org")
    for kind in ("clients", "blocks", "logs"):
        call_command(f"load_{kind}", str(files / f"{kind}.csv"))
    for day in DAYS:
        for table in COLUMNS:
            for form in FORMATS:
                path = out / f"{table}-{day}.{form}"
                call_command("export", table, as_of=day, format=form, out=path)


if __name__ == "__main__":
    os.environ["DJANGO_SETTINGS_MODULE"] = "coaching.settings"
    import django
    import time_machine

    time_machine.travel("2026-12-01T09:00:00Z", tick=True).start()
    django.setup()
    export_everything(Path(sys.argv[1]), Path(sys.argv[2]))
