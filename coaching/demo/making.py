"""Makes the demo's record, or brings it up to today; what was there stays as it was."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

from django.utils import timezone

from coaching.demo.cast import ASSISTANT, COACH, OUTSIDER, OWNER, open_studios, share_clients
from coaching.demo.furnishing import furnish
from coaching.demo.handed_in import hand_in
from coaching.demo.memory import DemoMemory, recall
from coaching.demo.shelf import stock_shelf
from coaching.loads.loading import load_file
from coaching.monitoring.refresh import refresh_clients
from coaching.simulation import SimulatedRoster, read_mix, simulate, write
from roster.people.models import Client, Coach, Contact
from roster.tables.reading import Progress

Say = Callable[[str], None]
FILES = ("clients", "blocks", "logs")
# The other studio: a few people who are fine, whom nobody of the first may see.
OTHER_CLIENTS = 3
OTHER_WEEKS = 12


class DemoRefused(Exception):
    """The demo can't be made as asked; the message says why."""


def make_demo(wanted: DemoMemory, directory: Path, *, today: date, say: Say, progress: Progress | None = None) -> None:
    """Studios, people who sign in, and the roster up to `today`; safe to run again and after being cut off."""
    coaches = open_studios()
    memory = _memory(wanted, directory, coaches[OWNER], today)
    if memory.loaded_until and memory.loaded_until >= today:
        return
    memory.keep(directory)
    say("Inventing the roster and its months of training.")
    roster = simulate(memory.seed, memory.clients, memory.weeks, until=today, staged_for=memory.staged_for)
    _load(roster, directory, coaches[OWNER], say, progress)
    _load(_other_roster(memory, today), directory / "other", coaches[OUTSIDER], lambda _: None)
    _settle_in(coaches[OWNER], coaches[COACH], coaches[ASSISTANT], roster, today)
    memory.loaded(today).keep(directory)


def _memory(wanted: DemoMemory, directory: Path, owner: Coach, today: date) -> DemoMemory:
    """What is remembered counts only where the studio has people, and where it has, nothing else does."""
    if not Client.objects.filter(studio=owner.studio).exists():
        return wanted
    kept = recall(directory)
    if kept is None:
        # Without the day it was staged for, the past can't be drawn as it was: what is there is shown as it is.
        return wanted.loaded(today)
    if not kept.is_drawn_like(wanted):
        raise DemoRefused(
            f"there is a demo of {kept.clients} clients, {kept.weeks} weeks and seed {kept.seed} already: run it with"
            " these, or set MUSTER_HOME to an empty folder for another"
        )
    return kept


def _other_roster(memory: DemoMemory, today: date) -> SimulatedRoster:
    nobody = read_mix("none")
    return simulate(memory.seed + 1, OTHER_CLIENTS, OTHER_WEEKS, until=today, mix=nobody, staged_for=memory.staged_for)


def _load(roster: SimulatedRoster, directory: Path, by: Coach, say: Say, progress: Progress | None = None) -> None:
    if by.studio is None:
        raise DemoRefused(f"{by.email} belongs to no studio any more")
    write(roster, directory)
    stock_shelf(by.studio)
    for kind in FILES:
        report = load_file(kind, directory / f"{kind}.csv", by.studio, by=by, progress=progress)
        if report.faults:
            raise DemoRefused(f"{kind}.csv was not taken: {next(iter(report.faults))}")
        say(f"Loaded {report.counts}.")


def _settle_in(owner: Coach, coach: Coach, assistant: Coach, roster: SimulatedRoster, today: date) -> None:
    """Who leads whom, and what was said: on the first day only."""
    if owner.studio is None or Contact.objects.filter(client__studio=owner.studio).exists():
        return
    share_clients(owner.studio, coach, assistant)
    furnish(owner.studio, owner, roster.truth, today)
    refresh_clients(Client.objects.filter(studio=owner.studio).values_list("pk", flat=True), timezone.now())
    hand_in(owner, roster.logs, timezone.now())
