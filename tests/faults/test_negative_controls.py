"""Defects put in on purpose, each of which the trial of a mutant must find; one that finds nothing proves nothing."""

from __future__ import annotations

import re
import socket
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from coaching.loads.loading import load_table
from roster.people.models import Client
from roster.tables.faults import Fault, Faults
from roster.tables.report import LoadReport
from tests.faults import markup_mutations
from tests.faults.campaign import Tally, listener, nursery_of
from tests.faults.mutants import Mutant
from tests.faults.nursery import Nursery
from tests.faults.seeds import seeds
from tests.faults.trial import Record, try_mutant

pytestmark = pytest.mark.django_db
GOOD = Mutant(0, "clients", seeds()[0].content, "", "good.csv")
BAD = Mutant(0, "clients", seeds()[0].content + b"x\n", "", "bad.csv")
Loaded = tuple[LoadReport, None]


def _refusing(row: int | None, column: str | None, reason: str) -> Callable[..., Loaded]:
    def load(kind: str, *rest: Any, **options: Any) -> Loaded:
        report = LoadReport(kind)
        report.faults.add(row, column, "", reason)
        return report, None

    return load


def _refusing_unclearly(kind: str, *rest: Any, **options: Any) -> Loaded:
    return LoadReport(kind, faults=Faults([Fault(2, "client", "", "a\nb")], 1)), None


def _saves_half(kind: str, *rest: Any, **options: Any) -> Loaded:
    Client.objects.update(name="half")
    return _refusing(2, "client", "is wrong")(kind)


def _fails(*rest: Any, **options: Any) -> Loaded:
    raise ZeroDivisionError("of a loader")


def _does_something_else(*arguments: Any, **options: Any) -> Loaded:
    report, _ = load_table(*arguments, **options)
    report.created += 1
    return report, None


def _does_nothing(kind: str, *rest: Any, **options: Any) -> Loaded:
    return LoadReport(kind, created=1), None


@pytest.mark.parametrize(
    ("load", "problem"),
    [
        (_saves_half, "refused, and yet the database changed"),
        (_fails, "crashed: ZeroDivisionError: of a loader"),
        (_does_something_else, "counts of the preview are not those of the result"),
        (_does_nothing, "told of changes, and changed nothing"),
        (_refusing(None, None, "is wrong"), "a fault without its place: 'is wrong'"),
        (_refusing(2, None, "is wrong"), "a fault without its place: 'row 2: is wrong'"),
        (_refusing_unclearly, "a fault that is no clear line: 'row 2, client: a\\nb'"),
        (_refusing(2, "client", "in /tmp/x"), "a fault that tells of this machine: 'row 2, client: in /tmp/x'"),
        (_refusing(2, "client", "is wrong"), "the faults of the preview are not those of the result"),
    ],
)
def test_a_loader_with_a_defect_is_found(
    record: Record, nursery: Nursery, tmp_path: Path, load: Callable[..., Loaded], problem: str
):
    assert problem in try_mutant(GOOD, nursery, tmp_path, record, load).problems


@pytest.mark.parametrize(
    ("defect", "problem"),
    [("greedy", "took [0-9]+ MB"), ("slow", r"took [0-9.]+ s"), ("crashes", "the child ended with -6")],
)
def test_a_child_with_a_defect_is_found(record: Record, tmp_path: Path, defect: str, problem: str):
    with nursery_of(defect) as nursery:
        verdict = try_mutant(GOOD, nursery, tmp_path, record)

    assert [found for found in verdict.problems if re.fullmatch(problem, found)]


def test_the_same_files_without_a_defect_have_no_problems(record: Record, nursery: Nursery, tmp_path: Path):
    verdicts = [try_mutant(mutant, nursery, tmp_path, record) for mutant in (GOOD, BAD)]

    assert [(verdict.is_accepted, verdict.problems) for verdict in verdicts] == [(True, []), (False, [])]


def test_a_connection_that_goes_out_is_counted():
    with listener() as arrivals:
        host, _, port = markup_mutations.LISTENER.partition(":")
        socket.create_connection((host, int(port))).close()

        assert arrivals() == 1


def test_a_problem_is_told_with_the_number_that_tries_it_again(record: Record, nursery: Nursery, tmp_path: Path):
    tally = Tally()

    tally.count(try_mutant(GOOD, nursery, tmp_path, record, _fails))

    assert tally.failures == ["mutant 0 (): crashed: ZeroDivisionError: of a loader"]
