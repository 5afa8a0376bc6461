"""A file of logs beside its rows alone: what reading, checking and recomputing add to inserting them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from django.db import transaction
from django.utils import timezone

from coaching.loads.loading import LOADERS, load_file
from coaching.simulation import simulate, write
from roster.logs.models import SessionLog, SetLog, Submission
from roster.people.models import Coach, Studio
from roster.tables.reading import read_table
from tests.bench.report import Line
from tests.bench.timing import Times

ROUNDS = 3


class Undone(Exception):
    """What was measured must not stay: each round finds the same record."""


def time_loading(directory: Path, clients: int, weeks: int) -> Iterator[Line]:
    coach = _studio_with_a_plan(directory, clients, weeks)
    path = directory / "logs.csv"
    contenders: dict[str, Callable[[], object]] = {
        "load_logs": lambda: load_file("logs", path, coach.studio, by=coach),
        "read, check, record": lambda: _load_without_facts(path, coach),
    }
    rows = _rows_of(contenders["read, check, record"], coach)
    contenders["rows alone, in bulk"] = lambda: _insert(rows)
    times = {name: Times() for name in contenders}
    for _ in range(ROUNDS):
        for name, work in contenders.items():
            _undone(lambda name=name, work=work: times[name].add(work))
    told = f"{len(rows[1])} logs, {len(rows[2])} sets of {clients} clients"
    whole = times["load_logs"]
    for name, measured in times.items():
        if name != "load_logs":
            yield Line(told, name, measured)
    yield Line(told, "load_logs", whole)
    for name, goal in (("rows alone, in bulk", 0.5), ("read, check, record", None)):
        said = f">= {goal} of the throughput" if goal else ""
        yield Line(told, f"load_logs beside: {name}", whole, times[name], said, least=goal, is_throughput=True)


def _studio_with_a_plan(directory: Path, clients: int, weeks: int) -> Coach:
    write(simulate(7, clients, weeks, until=timezone.now().date()), directory)
    studio = Studio.objects.create(name="Files")
    coach = Coach.objects.create(email="files@bench.example", studio=studio, role=Coach.Role.OWNER)
    for kind in ("clients", "blocks"):
        load_file(kind, directory / f"{kind}.csv", studio, by=coach)
    return coach


def _load_without_facts(path: Path, coach: Coach) -> None:
    columns, load = LOADERS["logs"]
    with transaction.atomic():
        load(read_table(path, columns), studio=coach.studio, by=coach, now=timezone.now())


def _undone(work: Callable[[], object]) -> None:
    try:
        with transaction.atomic():
            work()
            raise Undone
    except Undone:
        pass


Rows = tuple[list[Submission], list[SessionLog], list[SetLog]]


def _rows_of(load: Callable[[], object], coach: Coach) -> Rows:
    found: list[Rows] = []

    def look() -> None:
        load()
        logs = SessionLog.objects.filter(client__studio=coach.studio)
        found.append((
            list(Submission.objects.filter(client__studio=coach.studio)), list(logs),
            list(SetLog.objects.filter(session_log__in=logs)),
        ))

    _undone(look)
    return found[0]


def _insert(rows: Rows) -> None:
    submissions, logs, sets = rows
    with transaction.atomic():
        Submission.objects.bulk_create(submissions)
        SessionLog.objects.bulk_create(logs)
        SetLog.objects.bulk_create(sets)
