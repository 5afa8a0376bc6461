"""A process that loads one file of logs after the other, as `load_logs` does, and says on standard output what it did.

  python -m tests.crash.loader FOLDER SEED [WORD ...]

The words are of files whose loading was cut off before: they are loaded again first, as somebody would.
"""

from __future__ import annotations

import csv
import os
import sys
import uuid
from contextlib import redirect_stderr
from datetime import date, timedelta
from pathlib import Path
from random import Random

SESSIONS, SETS = 2, 3
DAYS_BACK = 80
COLUMNS = ("client", "performed_on", "exercise", "set", "reps", "load", "note", "submission")


def write_file(word: str, folder: Path, clients: list[str]) -> Path:
    """The same file whenever it is written: two sessions of one client, each set with a number of its own."""
    dice = Random(word)
    client, path = dice.choice(clients), folder / f"{word}.csv"
    with path.open("w", newline="") as file:
        rows = csv.writer(file)
        rows.writerow(COLUMNS)
        for session in range(SESSIONS):
            day = date.today() - timedelta(days=dice.randrange(2, DAYS_BACK))
            submission = uuid.uuid5(uuid.NAMESPACE_OID, f"{word} {session}")
            for number in range(SETS):
                note = "" if number else word
                rows.writerow([client, day, "sandbag carry", number + 1, 8, 10, note, submission])
    return path


def load(word: str, folder: Path, clients: list[str]) -> None:
    from django.core.management import call_command

    path = write_file(word, folder, clients)
    print("send", word, flush=True)
    with open(os.devnull, "w") as nowhere, redirect_stderr(nowhere):
        call_command("load_logs", str(path), "--studio", "Slow Iron Studio", stderr=nowhere)
    print("kept", word, flush=True)
    path.unlink()


def main(folder: Path, seed: str, again: list[str]) -> None:
    import django

    django.setup()
    from roster.people.models import Client

    quiet = Client.objects.filter(studio__name="Slow Iron Studio", flags__isnull=True, state="active")
    clients = sorted(quiet.values_list("key", flat=True))
    for word in again:
        load(word, folder, clients)
    number = 0
    while True:
        number += 1
        load(f"{seed}.file.{number}", folder, clients)
        # The first brings in what computes facts, which takes longer than a cycle does.
        if number == 1:
            print("ready", flush=True)


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2], sys.argv[3:])
