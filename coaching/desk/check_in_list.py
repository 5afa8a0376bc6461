"""The list of check-in calls: whose is overdue, whose is due this week, and whose is to come."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import Enum

from django.db.models import Count, Max, QuerySet

from analytics.iso_weeks import monday_of
from coaching.check_ins.models import PackVersion
from coaching.check_ins.periods import month_before
from coaching.desk.roster import Person
from coaching.monitoring.reading import RosterFacts
from roster.labels import order_of_names
from roster.people.models import CheckIn, CheckInAnswer, Client


class When(Enum):
    OVERDUE = "Overdue"
    THIS_WEEK = "This week"
    TO_COME = "To come"

    @property
    def anchor(self) -> str:
        return self.name.lower().replace("_", "-")


@dataclass(frozen=True, slots=True)
class CallLine:
    client: Person
    due_on: date
    late_days: int
    last_on: date | None
    # How many of the three questions have an answer.
    answers: int
    # Of the pack for the last full month: "given on 2 Apr", "ready", or nothing.
    pack: str


@dataclass(frozen=True)
class CallGroup:
    when: When
    lines: list[CallLine]


@dataclass(frozen=True)
class BesideCalls:
    """By client: the last call held, how many questions have an answer, what there is of the pack."""

    last: Mapping[int, date]
    answers: Mapping[int, int]
    packs: Mapping[int, str]


def read_beside_calls(clients: QuerySet[Client], day: date) -> BesideCalls:
    held = CheckIn.objects.held().filter(client__in=clients, held_on__lte=day).order_by()
    answered = CheckInAnswer.objects.filter(check_in__client__in=clients, check_in__held_on=None).exclude(text="")
    answers = answered.order_by().values_list("check_in__client_id").annotate(Count("question", distinct=True))
    last = held.values_list("client_id").annotate(Max("held_on"))
    return BesideCalls(dict(last), dict(answers), _packs(clients, day))


def _packs(clients: QuerySet[Client], day: date) -> dict[int, str]:
    month = month_before(day)
    kept = PackVersion.objects.filter(client__in=clients, first=month.first, last=month.last).order_by("number")
    return {pk: _given(given_on) if given_on else "ready" for pk, given_on in kept.values_list("client_id", "given_on")}


def _given(on: date) -> str:
    return f"given on {on.day} {on:%b}"


def build_groups(people: Sequence[Person], facts: RosterFacts, beside: BesideCalls, day: date) -> list[CallGroup]:
    """Those that have somebody in them; within each by day, then by name."""
    lines = [line for person in people if (line := _line(person, facts, beside, day))]
    lines.sort(key=lambda line: (line.due_on, order_of_names(line.client.name)))
    groups = [CallGroup(when, [line for line in lines if _when(line.due_on, day) is when]) for when in When]
    return [group for group in groups if group.lines]


def _line(person: Person, facts: RosterFacts, beside: BesideCalls, day: date) -> CallLine | None:
    state = facts.states.get(person.pk)
    if state is None or state.check_in_due_on is None:
        return None
    return CallLine(
        client=person,
        due_on=state.check_in_due_on,
        late_days=(state.as_of - state.check_in_due_on).days,
        last_on=beside.last.get(person.pk),
        answers=beside.answers.get(person.pk, 0),
        pack=beside.packs.get(person.pk, ""),
    )


def _when(due_on: date, day: date) -> When:
    if due_on < day:
        return When.OVERDUE
    return When.THIS_WEEK if monday_of(due_on) == monday_of(day) else When.TO_COME
