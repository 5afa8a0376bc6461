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

from tests.bench.report import Line, as_markdown, keep

WHOLE = SimpleNamespace(clients=1_000, weeks=26, rounds=9, rosters=[30, 300, 1_000], files=(60, 26))
QUICK = SimpleNamespace(clients=200, weeks=26, rounds=5, rosters=[30, 100], files=(12, 26))
CLIENTS_TO_REFRESH = 60
PARTS = ("calculations", "files", "refresh", "pages")


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("--quick", action="store_true", help="smaller rosters, two minutes; nothing is kept")
    parser.add_argument("--only", choices=PARTS, help="one part; nothing is kept")
    options = parser.parse_args()
    size = QUICK if options.quick else WHOLE
    with tempfile.TemporaryDirectory() as home:
        _use_database_in(Path(home))
        lines: list[Line] = []
        for line in _lines(size, options.only, Path(home)):
            lines.append(line)
            print(" | ".join(line.cells()), flush=True)
        text = as_markdown(lines, _told_of(size), date.today())
    print(f"\n{text}")
    if not options.quick and not options.only:
        print(f"Kept in {keep(text, date.today())}.")


def _lines(size: SimpleNamespace, only: str | None, home: Path) -> Iterator[Line]:
    if only in (None, "calculations"):
        yield from _calculations(size)
    if only != "calculations":
        yield from _desk(size, only, home)


def _calculations(size: SimpleNamespace) -> Iterator[Line]:
    from tests.bench import calculations
    from tests.bench.sizes import draw_record

    record = draw_record(size.clients, size.weeks)
    yield from calculations.compare_all_tables(record, size.rounds)
    yield from calculations.compare_one_client(record, size.rounds)
    yield from calculations.compare_weekly(record, size.rounds)


def _desk(size: SimpleNamespace, only: str | None, home: Path) -> Iterator[Line]:
    from tests.bench import board, desk, logs_file, reads, sent_log
    from tests.bench.filling import fill_studio
    from tests.bench.sizes import draw_record

    if only in (None, "files"):
        yield from logs_file.time_loading(home / "files", *size.files)
    if only in (None, "refresh"):
        for weeks in (26, 104):
            record = draw_record(CLIENTS_TO_REFRESH, weeks, as_of=desk.today())
            owner = fill_studio(f"Refreshed, {weeks} weeks", record, {})["owner"]
            yield from reads.time_reads(owner)
            yield from sent_log.time_sent_logs(owner, weeks)
    if only in (None, "pages"):
        furnished = desk.furnish(size.rosters)
        yield from board.time_rows(furnished.short[str(size.rosters[-1])])
        yield from desk.time_pages(furnished)


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


def _told_of(size: SimpleNamespace) -> list[str]:
    return [
        f"Calculations: {size.clients} clients x {size.weeks} weeks, three sessions of three exercises a week, ids "
        "with gaps, every third log linked by its exercises. Each engine is given the record as its own frames and "
        "makes: links and amounts of logs; completion, status and planned minutes of sessions; week figures; exposures "
        "with verdicts, e1RM, landings and stages. Their answers were equal row by row before they were timed.",
        "Files and pages: SQLite as it comes with the product, on this machine's disk; pages through the whole "
        f"application without a network, {size.rosters} clients.",
    ]


if __name__ == "__main__":
    main()
