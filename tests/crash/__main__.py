"""Kills a server that is being written to, and says what became of what it had acknowledged.

  python -m tests.crash --cycles 500
"""

from __future__ import annotations

import argparse
import os
import secrets
import sys
import tempfile
from pathlib import Path


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.crash", description=__doc__)
    parser.add_argument("--cycles", type=int, default=500)
    parser.add_argument("--seed", type=int, default=secrets.randbelow(10**6))
    given = parser.parse_args()
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
    import django

    django.setup()
    from tests.crash.killing import Killing

    print(f"seed: {given.seed}", flush=True)
    with tempfile.TemporaryDirectory() as folder:
        outcome = Killing(Path(folder) / "home", given.seed).run(given.cycles, lambda line: print(line, flush=True))
        print("\n".join([*outcome.lines(), *outcome.faults]))
    return 1 if outcome.faults else 0


if __name__ == "__main__":
    sys.exit(main())
