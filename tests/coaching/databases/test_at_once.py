"""Two at work on the same clients: one waits for the other, and what is stored in the end follows from the record.

The embedded database lets one write at a time by itself.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from threading import Barrier, Event
from typing import Any

import pytest
from django.db import connection, transaction

from coaching.monitoring.models import ClientState, ExposureFact, Flag, LogFact, SessionFact, WeekFact
from coaching.monitoring.refresh import reassess, refresh_clients
from roster.people.models import Client, Coach
from tests.coaching.monitoring.files import (
    MET,
    MONDAYS,
    SHORT,
    client,
    done,
    load_ana,
    load_logs,
    load_rows,
    weekly_logs,
    weekly_plan,
)

pytestmark = [pytest.mark.usefixtures("server"), pytest.mark.django_db(transaction=True)]
NOW = datetime(2026, 2, 10, 7, tzinfo=UTC)
STORED = (SessionFact, LogFact, WeekFact, ExposureFact, Flag)
ROUNDS = 8
SECONDS = 60


def stored_rows() -> dict[str, list[tuple[Any, ...]]]:
    """All facts and findings, without the numbers that rows get when they are made."""
    return {
        model.__name__: sorted(
            model.objects.values_list(*(field.attname for field in model._meta.concrete_fields if field.name != "id")),
            key=repr,
        )
        for model in STORED
    }


def at_once(*works: Callable[[], object]) -> None:
    """All begin together, each with a connection of its own; the first failure is raised."""
    start = Barrier(len(works))

    def work_of(work: Callable[[], object]) -> None:
        try:
            start.wait(SECONDS)
            work()
        finally:
            connection.close()

    with ThreadPoolExecutor(len(works)) as threads:
        for done_work in [threads.submit(work_of, work) for work in works]:
            done_work.result(SECONDS)


def refresh(somebody: Client) -> None:
    refresh_clients([somebody.pk], NOW)


def test_one_client_refreshed_by_two_at_once_stands_as_refreshed_by_one(coach: Coach) -> None:
    ana = load_ana(coach, weekly_plan(*["20"] * 5), *weekly_logs(MET, SHORT, SHORT, SHORT))
    refresh(ana)
    expected = stored_rows()
    assert all(expected.values())

    for _ in range(ROUNDS):
        Flag.objects.all().delete()
        SessionFact.objects.all().delete()
        ClientState.objects.all().delete()
        at_once(lambda: refresh(ana), lambda: refresh(ana))

        assert stored_rows() == expected


def test_a_log_that_comes_in_while_another_refresh_is_under_way_is_not_left_out(coach: Coach) -> None:
    ana = load_ana(coach, weekly_plan(*["20"] * 5), *weekly_logs(MET, MET))
    is_held, may_end = Event(), Event()

    def slow_refresh() -> None:
        with transaction.atomic():
            refresh(ana)
            is_held.set()
            may_end.wait(SECONDS)

    def log_and_refresh() -> None:
        is_held.wait(SECONDS)
        with transaction.atomic():
            load_logs(coach, done(MONDAYS[2], MET, names="3 A"))
            may_end.set()
            refresh(ana)

    at_once(slow_refresh, log_and_refresh)

    assert SessionFact.objects.filter(status="done").count() == 3
    assert LogFact.objects.count() == 3


def test_everybody_reassessed_from_both_ends_at_once_ends(coach: Coach) -> None:
    """Whoever takes several clients takes them in the same order, so that no two wait for each other."""
    keys = [f"k{number}" for number in range(12)]
    load_rows("clients", [client(client=key) for key in keys], coach)
    load_rows("blocks", [row for key in keys for row in weekly_plan("20", "20", client=key)], coach)
    forwards, backwards = Client.objects.order_by("pk"), Client.objects.order_by("-pk")

    for _ in range(ROUNDS):
        at_once(lambda: reassess(forwards, now=NOW), lambda: reassess(backwards, now=NOW))

    assert ClientState.objects.count() == 12


def test_loads_of_the_same_people_in_several_parts_do_not_wait_for_each_other(
    coach: Coach, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("coaching.monitoring.refresh.STORED_CLIENTS", 2)
    names = "zyxwvutsrqpo"
    load_rows("clients", [client(client=f"k{letter}", name=letter) for letter in names], coach)
    load_rows("blocks", [row for letter in names for row in weekly_plan("20", client=f"k{letter}")], coach)
    ids = list(Client.objects.order_by("pk").values_list("pk", flat=True))

    def load_of(some: list[int]) -> Callable[[], object]:
        return lambda: transaction.atomic(refresh_clients)(some, NOW)

    for _ in range(ROUNDS):
        at_once(load_of(ids), load_of(ids[::3]), load_of(ids[1::2]))

    assert ClientState.objects.count() == 12
