from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from typing import Any

from analytics.iso_weeks import iso_week
from coaching.api.answering import ListOf
from coaching.api.cursors import Position
from coaching.api.fields import RowOf, amount, choice, client_members, count, day, rows, text, texts
from coaching.api.parameters import ClientFilters, any_of
from coaching.monitoring import reading
from coaching.monitoring.fact_pages import Person, Wanted, people_of
from coaching.monitoring.fact_shapes import Row
from coaching.monitoring.models import ClientState
from coaching.monitoring.session_marks import SessionMark
from coaching.monitoring.turnout_weeks import board_weeks
from roster.people.models import Client

SPANS = (4, 12)


class BoardWeekRow(RowOf):
    iso_week = text("Such as 2026-W10.")
    statuses = texts("What became of each planned session, by the suggested day.")


class TurnoutRow(RowOf):
    client_id, client = client_members()
    name = text("Their name.")
    state = choice(Client.State.choices, "Whether they train now.")
    as_of = day("The day as at which this stands.")
    last_log_on = day("On which they were last heard of by a log.", null=True)
    attended_4_weeks = count("Sessions attended in the 4 weeks that end with the week of that day.")
    due_4_weeks = count("Sessions due in them.")
    turnout_4_weeks = amount("Attended of due, 0 to 1.", null=True)
    attended_12_weeks = count("Sessions attended in 12 weeks.")
    due_12_weeks = count("Sessions due in them.")
    turnout_12_weeks = amount("Attended of due, 0 to 1.", null=True)
    weeks = rows(BoardWeekRow, "The last 12 weeks, the latest last; those without a planned session are empty.")


EXAMPLE: Row = {
    "client_id": "6f0c8a52-3a8e-4b0e-9a55-0d2f6c1c7e11", "client": "ada.finn", "name": "Ada Finn", "state": "active",
    "as_of": "2026-04-03", "last_log_on": "2026-03-30", "attended_4_weeks": 4, "due_4_weeks": 4, "turnout_4_weeks": 1.0,
    "attended_12_weeks": 5, "due_12_weeks": 5, "turnout_12_weeks": 1.0,
    "weeks": [{"iso_week": "2026-W14", "statuses": ["done"]}],
}


class TurnoutFilters(ClientFilters):
    state = any_of("state", Client.State.choices, "Whether they train now.")


class Turnout(ListOf):
    name = "turnout"
    summary = "Who showed up: the figures of the Turnout board, a row a client."
    shape, example, filters = TurnoutRow, EXAMPLE, TurnoutFilters
    wanted: Wanted

    def read(self, wanted: Wanted) -> Sequence[Person]:
        self.wanted = wanted
        people = people_of(wanted)
        return [one for one in people if not wanted.after or one.public_id != wanted.after[0]][: wanted.size + 1]

    def position(self, one: Person) -> Position:
        return (one.public_id,)

    def rows(self, page: Sequence[Person]) -> list[Row]:
        if not page:
            return []
        ids = [person.pk for person in page]
        clients = Client.objects.filter(pk__in=ids)
        facts = reading.read_roster(clients, as_of=self.wanted.as_of, with_evidence=False, now=self.wanted.now)
        weeks = [week for state in facts.states.values() for week in board_weeks(state.as_of)]
        marks = dict(facts.read_marks(ids, since=min(weeks), until=max(weeks)))
        return [_row(person, facts.states[person.pk], marks.get(person.pk, [])) for person in page]


def _row(person: Person, state: ClientState, marks: Sequence[SessionMark]) -> Row:
    figures: dict[str, Any] = {}
    for weeks in SPANS:
        attended, due = (getattr(state, f"{name}_{weeks}_weeks") for name in ("attended", "due"))
        figures |= {f"attended_{weeks}_weeks": attended, f"due_{weeks}_weeks": due}
        figures[f"turnout_{weeks}_weeks"] = attended / due if due else None
    return {
        "client_id": person.public_id, "client": person.key, "name": person.name, "state": person.state,
        "as_of": state.as_of, "last_log_on": state.last_log_on, **figures, "weeks": _weeks(state, marks),
    }


def _weeks(state: ClientState, marks: Sequence[SessionMark]) -> list[Row]:
    statuses: dict[Any, list[str]] = defaultdict(list)
    for mark in marks:
        statuses[mark.week_start].append(mark.status)
    return [{"iso_week": iso_week(week), "statuses": statuses[week]} for week in board_weeks(state.as_of)]
