"""The bench, one command: `python -m tests.bench`, shorter with --quick; prints its table and keeps it with the day."""

from __future__ import annotations

import argparse
import logging
import os
import tempfile
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from types import SimpleNamespace

from tests.bench.report import Line, keep, section

WHOLE = SimpleNamespace(
    clients=1_000, weeks=26, rounds=9, rosters=[30, 300, 1_000], files=(60, 26), histories=(26, 104)
)
QUICK = SimpleNamespace(clients=200, weeks=26, rounds=5, rosters=[30, 100], files=(12, 26), histories=(26,))
CLIENTS_TO_REFRESH = 60


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("--quick", action="store_true", help="smaller rosters, two minutes; nothing is kept")
    parser.add_argument("--only", choices=PARTS, help="one part; what the day's file has of the others stays")
    options = parser.parse_args()
    size = QUICK if options.quick else WHOLE
    with tempfile.TemporaryDirectory() as home:
        _use_database_in(Path(home))
        sections = [_measured(part, size, Path(home)) for part in ([options.only] if options.only else PARTS)]
    if not options.quick:
        print(f"Kept in {keep(sections, date.today())}.")


def _measured(part: str, size: SimpleNamespace, home: Path) -> str:
    lines: list[Line] = []
    for line in PARTS[part](size, home):
        lines.append(line)
        print(" | ".join(line.cells()), flush=True)
    return section(part, lines, _told_of(part, size))


def _calculations(size: SimpleNamespace, home: Path) -> Iterator[Line]:
    from tests.bench import calculations
    from tests.bench.sizes import draw_record

    record = draw_record(size.clients, size.weeks)
    yield from calculations.compare_all_tables(record, size.rounds)
    yield from calculations.compare_one_client(record, size.rounds)
    yield from calculations.compare_weekly(record, size.rounds)


def _files(size: SimpleNamespace, home: Path) -> Iterator[Line]:
    from tests.bench import logs_file

    yield from logs_file.time_loading(home / "files", *size.files)


def _refresh(size: SimpleNamespace, home: Path) -> Iterator[Line]:
    from tests.bench import desk, reads, sent_log
    from tests.bench.filling import fill_studio
    from tests.bench.sizes import draw_record

    for weeks in size.histories:
        record = draw_record(CLIENTS_TO_REFRESH, weeks, as_of=desk.today())
        owner = fill_studio(f"Refreshed, {weeks} weeks", record, {})["owner"]
        yield from reads.time_reads(owner)
        yield from sent_log.time_sent_logs(owner, weeks)


def _pages(size: SimpleNamespace, home: Path) -> Iterator[Line]:
    from tests.bench import board, desk

    furnished = desk.furnish(size.rosters)
    yield from board.time_rows(furnished.short[str(size.rosters[-1])])
    yield from desk.time_pages(furnished)


PARTS = {"calculations": _calculations, "files": _files, "refresh": _refresh, "pages": _pages}


def _use_database_in(home: Path) -> None:
    """The product's own settings, as on a coach's machine, with a database that is gone afterwards."""
    for name in ("DATABASE_URL", "DEBUG", "REDIS_URL", "HTTPS", "ALLOWED_HOSTS"):
        os.environ.pop(name, None)
    os.environ |= {"MUSTER_HOME": str(home), "DJANGO_SETTINGS_MODULE": "coaching.settings"}
    import django
    from django.core.management import call_command

    # A line for each request would be measured too.
    logging.disable(logging.INFO)

    django.setup()
    call_command("migrate", verbosity=0)


def _told_of(part: str, size: SimpleNamespace) -> str:
    on_disk = "SQLite as it comes with the product, on this machine's disk"
    return {
        "calculations": f"{size.rounds} rounds; {size.clients} clients x {size.weeks} weeks, "
        "three sessions of three exercises a week, ids with gaps, every third log linked by its exercises. Each "
        "engine is given the record in its own form and makes links and amounts of logs; completion, status and "
        "planned minutes of sessions; week figures; exposures with verdicts, e1RM, landings and stages. Their "
        "answers were equal row by row before they were timed.",
        "files": f"{on_disk}. The rows alone are inserted in bulk, ready-made; `load_logs` reads, checks and records "
        "the file, and computes facts and findings of all its clients.",
        "refresh": f"{on_disk}. One client after another, each after a new log of theirs.",
        "pages": f"{on_disk}; through the whole application without a network; {size.rosters} clients.",
    }[part]


if __name__ == "__main__":
    main()
