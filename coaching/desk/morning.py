"""The Morning list: who needs the coach today and what for; every client of the roster is somewhere in it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from analytics.iso_weeks import monday_of
from coaching.desk.days import listed
from coaching.desk.findings import Finding, Subject, findings_of, part_put_aside
from coaching.desk.last_words import LastWords
from coaching.desk.roster import Person
from coaching.desk.rows import Row, build_row
from coaching.monitoring.models import Kind, Status, Urgency
from coaching.monitoring.piles import SHOWN_PILES, Pile
from coaching.monitoring.reading import RosterFacts
from coaching.monitoring.session_marks import WeekOutcome
from roster.labels import order_of_names

# How many weeks of session marks a row shows, the present one included.
STRIP_WEEKS = 4
# How many clients to ring a phone shows before one asks for more; a matter of safety is shown always.
PHONE_RING_ROWS = 3
# How many rows of each kind a pile shows before one asks for all; the worst come first.
ROWS_AT_FIRST = 30
# From how many clients on "plan runs out" becomes one row for all of them.
RUNNING_OUT_TOGETHER = 2


@dataclass(frozen=True)
class PileOfRows:
    pile: Pile
    rows: list[Row]
    # Clients of whom nothing is to be said but that their plan runs out, when they are several.
    running_out: list[Row]
    # Those whose every finding the coach has seen.
    seen: list[Row]
    # Of rows, of those whose plan runs out, and of those seen: how many are shown each.
    at_most: int | None = None

    @property
    def count(self) -> int:
        return len(self.rows) + len(self.running_out)

    @property
    def shown(self) -> list[Row]:
        return [*self.rows[: self.at_most], *self.shown_running_out, *self.seen[: self.at_most]]

    @property
    def left_off(self) -> int:
        return self.count + len(self.seen) - len(self.shown)

    @property
    def shown_running_out(self) -> list[Row]:
        return self.running_out[: self.at_most]

    @cached_property
    def marked_rows(self) -> list[tuple[Row, bool]]:
        """The rows, each with whether a phone shows it only on demand."""
        return [(row, self._waits_on_phone(row, place)) for place, row in enumerate(self.rows[: self.at_most])]

    @property
    def marked_seen(self) -> list[tuple[Row, bool]]:
        return [(row, False) for row in self.seen[: self.at_most]]

    @cached_property
    def waiting_on_phone(self) -> int:
        return sum(waits for _, waits in self.marked_rows)

    def _waits_on_phone(self, row: Row, place: int) -> bool:
        if self.pile is Pile.RING:
            return place >= PHONE_RING_ROWS and row.worst.urgency != Urgency.NOW.value
        return self.pile is not Pile.ANSWER and not row.runs_out

    @property
    def names_running_out(self) -> str:
        return listed([row.client.name for row in self.running_out], at_most=8)


@dataclass(frozen=True)
class PutAside:
    client: Person
    finding: Finding


@dataclass(frozen=True)
class Missed:
    client: Person
    missed: int
    asked: int


@dataclass(frozen=True)
class MorningList:
    # How many clients there are on it, those without a finding too.
    size: int
    piles: list[PileOfRows]
    put_aside: list[PutAside]
    missed_last_week: list[Missed]
    going_well: list[Person]
    # Without a finding, and without a session that was due lately.
    nothing_due: list[Person]

    @property
    def count(self) -> int:
        return sum(pile.count for pile in self.piles)

    @property
    def shown(self) -> list[Row]:
        return [row for pile in self.piles for row in pile.shown]


def strip_since(day: date) -> date:
    return monday_of(day) - timedelta(weeks=STRIP_WEEKS - 1)


def build_morning(
    people: Sequence[Person],
    facts: RosterFacts,
    *,
    day: date,
    last_week: Mapping[int, WeekOutcome],
    words: LastWords,
    live_exercises: Mapping[int, int],
    news: frozenset[Subject] = frozenset(),
    at_most: int | None = None,
) -> MorningList:
    rows: list[Row] = []
    put_aside: list[PutAside] = []
    for person in people:
        if person.pk not in facts.flags:
            continue
        state, live = facts.states.get(person.pk), live_exercises.get(person.pk, 0)
        their_day = state.as_of if state else day
        aside, here = part_put_aside(facts.flags[person.pk], their_day)
        put_aside += [PutAside(person, finding) for finding in findings_of(aside, live)]
        if here:
            found = findings_of(here, live, news)
            rows.append(build_row(person, found, day=their_day, state=state, words=words))
    put_aside.sort(key=lambda one: (one.finding.put_aside_until, order_of_names(one.client.name)))
    return _list_with_the_quiet(people, facts, last_week, _piles(rows, at_most), put_aside)


def _list_with_the_quiet(
    people: Sequence[Person],
    facts: RosterFacts,
    last_week: Mapping[int, WeekOutcome],
    piles: list[PileOfRows],
    put_aside: list[PutAside],
) -> MorningList:
    missed = _missed_last_week(people, facts, last_week)
    rows = [row for pile in piles for row in (*pile.rows, *pile.running_out, *pile.seen)]
    named = {row.client.pk for row in rows} | {one.client.pk for one in (*put_aside, *missed)}
    quiet = [person for person in people if person.pk not in named]
    return MorningList(
        size=len(people),
        piles=piles,
        put_aside=put_aside,
        missed_last_week=missed,
        going_well=[person for person in quiet if _was_due(person, facts)],
        nothing_due=[person for person in quiet if not _was_due(person, facts)],
    )


def _piles(rows: list[Row], at_most: int | None) -> list[PileOfRows]:
    in_order = sorted(rows, key=lambda row: row.order)
    piles = [_pile(pile, [row for row in in_order if row.pile is pile], at_most) for pile in SHOWN_PILES]
    return [pile for pile in piles if pile.count or pile.seen]


def _pile(pile: Pile, rows: list[Row], at_most: int | None) -> PileOfRows:
    unseen = [row for row in rows if not row.is_seen]
    seen = [row for row in rows if row.is_seen]
    running_out = [row for row in unseen if row.only_runs_out]
    if len(running_out) < RUNNING_OUT_TOGETHER:
        return PileOfRows(pile, unseen, [], seen, at_most)
    return PileOfRows(pile, [row for row in unseen if not row.only_runs_out], running_out, seen, at_most)


def _missed_last_week(
    people: Sequence[Person], facts: RosterFacts, last_week: Mapping[int, WeekOutcome]
) -> list[Missed]:
    """Who missed sessions in the last full week, and has no finding about turnout that says so already."""
    told = {pk for pk, flags in facts.flags.items() if any(flag.kind == Kind.TURNOUT.value for flag in flags)}
    weeks = [(person, last_week[person.pk]) for person in people if person.pk in last_week and person.pk not in told]
    return [
        Missed(person, week[Status.MISSED.value], week.total() - week[Status.NOT_DUE.value])
        for person, week in weeks
        if week[Status.MISSED.value]
    ]


def _was_due(person: Person, facts: RosterFacts) -> bool:
    state = facts.states.get(person.pk)
    return state is not None and state.due_4_weeks > 0
