"""Try many mutants by hand: `python -m tests.faults --mutants 20000`, or one again: `--only 4711`."""

from __future__ import annotations

import argparse
import os
import sys
import time
from typing import TYPE_CHECKING

import django

if TYPE_CHECKING:
    from tests.faults.campaign import Tally


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.faults", description=__doc__)
    parser.add_argument("--mutants", type=int, default=20_000)
    parser.add_argument("--first", type=int, default=0, help="the number of the first")
    parser.add_argument("--seed", type=int, help="of the run; the same seed gives the same mutants")
    parser.add_argument("--only", type=int, help="this one mutant, with all that is said of it")
    arguments = parser.parse_args()
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.settings"
    django.setup()
    return _run(arguments)


def _run(arguments: argparse.Namespace) -> int:
    from django.db import connection

    from tests.coaching.factories import CoachFactory
    from tests.faults import campaign

    # A run that was broken off left its database behind on a server.
    connection.creation.create_test_db(verbosity=0, autoclobber=True)
    record = campaign.filled_record(CoachFactory(role="owner"))
    seed = campaign.RUN_SEED if arguments.seed is None else arguments.seed
    first, count = (arguments.first, arguments.mutants) if arguments.only is None else (arguments.only, 1)
    print(f"seed {seed}, mutants {first} to {first + count - 1}", flush=True)
    started = time.monotonic()
    tally = campaign.run(range(first, first + count), record, seed=seed, told=_progress)
    print(f"\n{tally}; {time.monotonic() - started:.0f} s")
    print(*tally.failures, sep="\n")
    return 1 if tally.failures else 0


def _progress(tally: Tally) -> None:
    done = tally.accepted + tally.refused
    if sys.stderr.isatty() or done % 1000 == 0:
        print(f"\r{done}: {tally}", end="", file=sys.stderr, flush=True)


if __name__ == "__main__":
    sys.exit(main())
