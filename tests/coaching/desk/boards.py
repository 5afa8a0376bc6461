"""Clients and sessions for the Turnout board, and how its rows are read."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

from bs4 import BeautifulSoup
from bs4.element import Tag

from coaching.monitoring.models import Status
from roster.people.models import Client, Coach
from tests.coaching.factories import (
    MONDAY,
    WEDNESDAY,
    BlockFactory,
    ClientFactory,
    ClientStateFactory,
    PlannedSessionFactory,
    SessionFactFactory,
)

ReadBoard = Callable[..., BeautifulSoup]


def a_client(coach: Coach, name: str, **more: object) -> Client:
    """With facts that stand as at Wednesday."""
    facts = {key: more.pop(key) for key in list(more) if key.startswith(("last_log", "attended", "due"))}
    client = ClientFactory(lead=coach, name=name, **more)
    ClientStateFactory(client=client, **{"last_log_on": WEDNESDAY, **facts})
    return client


def a_session(client: Client, day: date, status: str = Status.DONE) -> None:
    """A session of the third week of a block."""
    monday = day - timedelta(days=day.weekday())
    block = client.blocks.first() or BlockFactory(client=client, starts_on=MONDAY - timedelta(weeks=12), weeks=16)
    planned = PlannedSessionFactory(block=block, week=3, label=f"{day:%d%m}", suggested_on=day)
    undone = {} if status == Status.DONE else {"performed_on": None, "set_completion": None, "counted_sets": 0}
    SessionFactFactory(planned_session=planned, week_start=monday, status=status, **undone)


def names(board: BeautifulSoup) -> list[str]:
    return [row.a.text for row in board.select(".board tbody tr")]


def row_of(board: BeautifulSoup, name: str) -> Tag:
    return next(row for row in board.select(".board tbody tr") if row.a.text == name)
