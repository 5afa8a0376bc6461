"""Rows of the Turnout board, drawn by the product and in Django's template language from the same things."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from django.template import engines
from django.template.loader import get_template
from django.utils import timezone

from coaching.desk.as_of import When
from coaching.desk.beside import read_beside, read_extras
from coaching.desk.board import build_rows
from coaching.desk.board_cells import cells_of
from coaching.desk.roster import ALL, people_of, persons
from coaching.monitoring import reading
from coaching.monitoring.turnout_weeks import board_weeks
from roster.people.models import Coach
from tests.bench.report import Line
from tests.bench.timing import time_in_turns

ROUNDS = 15
_PEER = Path(__file__).with_name("board_rows.html")

Things = dict[str, Any]


def things_of(coach: Coach) -> Things:
    """What both are given: the rows of all whom the coach sees, with the cells of their weeks."""
    day = timezone.now().date()
    people, weeks = people_of(coach, ALL), board_weeks(day)
    facts = reading.read_roster(people, as_of=None, with_evidence=False)
    rows = build_rows(persons(people), facts, read_beside(people, coach, day), {}, day=day)
    ids = [row.client.pk for row in rows]
    extras = read_extras(ids, since=weeks[0], as_of=None)
    marks = dict(facts.read_marks(ids, since=weeks[0], until=weeks[-1]))
    lines = [(row, cells_of(marks.get(pk, ()), extras.get(pk, ()), weeks)) for row, pk in zip(rows, ids, strict=True)]
    return {"lines": lines, "when": When(day=day, today=day)}


def by_product(things: Things) -> str:
    return get_template("desk/rows/board.jinja", using="jinja2").render(things)


def by_django(things: Things) -> str:
    return engines["django"].from_string(_PEER.read_text(encoding="utf-8")).render(things)


def without_blanks(html: str) -> str:
    """What a browser shows is the same with and without blanks between tags."""
    return re.sub(r"\s*(<[^>]*>)\s*", r"\1", html).strip()


def time_rows(coach: Coach) -> Iterator[Line]:
    things = things_of(coach)
    if without_blanks(by_product(things)) != without_blanks(by_django(things)):
        raise RuntimeError("the two boards differ")
    peer = engines["django"].from_string(_PEER.read_text(encoding="utf-8"))
    times = time_in_turns(
        {"product": lambda: by_product(things), "django": lambda: peer.render(things)}, ROUNDS
    )
    work = f"{len(things['lines'])} rows of the board, drawn"
    product, django = times["product"], times["django"]
    yield Line(work, "Django's templates", django)
    yield Line(work, "product", product, django, "<= 0.25 of Django's", 0.25)
