"""The Turnout board: a row for each client, a cell for each of the last twelve weeks."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import Enum

from coaching.desk.beside import Beside
from coaching.desk.roster import Person
from coaching.monitoring.models import ClientState, Flag, Kind, Status
from coaching.monitoring.piles import URGENCY_ORDER
from coaching.monitoring.reading import RosterFacts
from coaching.monitoring.session_marks import WeekOutcome
from roster.labels import order_of_names
from roster.people.models import Client

QUIET_DAYS = 14
LATE = (Status.MISSED.value, Status.OVERDUE.value)


class Show(Enum):
    """Which rows the board shows, as the address names it."""

    ACTIVE = "active"
    BEHIND = "behind"
    QUIET = "quiet"
    PAUSED = "paused"
    ENDED = "ended"

    @property
    def label(self) -> str:
        return {"active": "Active", "behind": "Behind this week"}.get(self.value, self.value.capitalize())


class Sort(Enum):
    NEED = "need"
    NAME = "name"
    TURNOUT = "turnout"
    HEARD = "heard"

    @property
    def label(self) -> str:
        return "last heard" if self is Sort.HEARD else self.value


@dataclass(frozen=True, slots=True)
class BoardRow:
    """One client on the board."""

    client: Person
    state: ClientState | None
    worst: Flag | None
    last_word_on: date | None
    is_behind: bool
    is_quiet: bool
    is_paused: bool

    @property
    def last_heard_on(self) -> date | None:
        return self.state.last_log_on if self.state else None

    @property
    def need(self) -> str:
        """What the worst finding is about, in a word or two."""
        return Kind(self.worst.kind).label if self.worst else ""

    def belongs_to(self, show: Show) -> bool:
        match show:
            case Show.ENDED:
                return self.client.state == Client.State.ENDED
            case Show.PAUSED:
                return self.is_paused
            case Show.ACTIVE:
                return self.client.state == Client.State.ACTIVE
            case Show.BEHIND:
                return self.is_behind and not self.is_paused
            case Show.QUIET:
                return self.is_quiet and not self.is_paused


def build_rows(
    people: Iterable[Person], facts: RosterFacts, beside: Beside, this_week: Mapping[int, WeekOutcome], *, day: date
) -> list[BoardRow]:
    return [_row(person, facts, beside, this_week.get(person.pk, WeekOutcome()), day) for person in people]


def sort_rows(rows: Iterable[BoardRow], sort: Sort) -> list[BoardRow]:
    """Who needs the coach most, comes least or was heard least lately is first; names decide between equals."""
    by_name = sorted(rows, key=lambda row: order_of_names(row.client.name))
    match sort:
        case Sort.NEED:
            return sorted(by_name, key=_by_need)
        case Sort.TURNOUT:
            return sorted(by_name, key=_by_turnout)
        case Sort.HEARD:
            return sorted(by_name, key=lambda row: row.last_heard_on or date.min)
        case Sort.NAME:
            return by_name


def _row(client: Person, facts: RosterFacts, beside: Beside, this_week: WeekOutcome, day: date) -> BoardRow:
    state = facts.states.get(client.pk)
    is_active = client.state == Client.State.ACTIVE
    in_sight = (flag for flag in facts.flags.get(client.pk, ()) if not flag.is_put_aside(day))
    return BoardRow(
        client=client,
        state=state,
        worst=min(in_sight, key=_urgency_order, default=None),
        last_word_on=beside.last_contacts.get(client.pk, (None, True))[0],
        is_behind=is_active and any(this_week[status] for status in LATE),
        is_quiet=is_active and _is_quiet(client, state, day),
        is_paused=client.state == Client.State.PAUSED or (is_active and client.pk in beside.paused),
    )


def _is_quiet(client: Person, state: ClientState | None, day: date) -> bool:
    heard_on = state.last_log_on if state else None
    return (day - (heard_on or client.joined_on)).days >= QUIET_DAYS


def _urgency_order(flag: Flag) -> int:
    return URGENCY_ORDER[flag.urgency]


def _by_need(row: BoardRow) -> tuple[int, float]:
    urgency = _urgency_order(row.worst) if row.worst else len(URGENCY_ORDER)
    return urgency, _by_turnout(row)


def _by_turnout(row: BoardRow) -> float:
    """Nothing due comes last: it says nothing about anybody."""
    if row.state is None or not row.state.due_12_weeks:
        return 2.0
    return row.state.attended_12_weeks / row.state.due_12_weeks


def count_rows(rows: Sequence[BoardRow]) -> dict[Show, int]:
    """How many rows each choice would show."""
    return {show: sum(row.belongs_to(show) for row in rows) for show in Show}
