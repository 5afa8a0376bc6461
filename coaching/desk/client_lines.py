"""A line of the Clients list, and the choice of which clients it shows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from coaching.desk.findings import findings_of
from coaching.monitoring.models import ClientState, Flag
from coaching.monitoring.piles import URGENCY_ORDER
from coaching.monitoring.reading import RosterFacts
from roster.people.models import Client


@dataclass(frozen=True, slots=True)
class StateChoice:
    value: str
    label: str
    count: int
    is_chosen: bool


@dataclass(frozen=True, slots=True)
class ClientLine:
    client: Client
    last_log_on: date | None
    # Such as "11/12"; empty while nothing was due.
    turnout: str
    findings: int
    worst: str


def state_choices(counts: Mapping[str, int], chosen: str) -> list[StateChoice]:
    by_state = [
        StateChoice(state.value, str(state.label), counts.get(state.value, 0), state.value == chosen)
        for state in Client.State
    ]
    return [*by_state, StateChoice("all", "all", sum(counts.values()), chosen == "all")]


def build_lines(clients: Sequence[Client], facts: RosterFacts, day: date) -> list[ClientLine]:
    return [_line(client, facts.states.get(client.pk), facts.flags.get(client.pk, ()), day) for client in clients]


def _line(client: Client, state: ClientState | None, flags: Sequence[Flag], day: date) -> ClientLine:
    here = [flag for flag in flags if not flag.is_put_aside(day)]
    return ClientLine(
        client=client,
        last_log_on=state.last_log_on if state else None,
        turnout=f"{state.attended_4_weeks}/{state.due_4_weeks}" if state and state.due_4_weeks else "",
        findings=len(findings_of(here, live_exercises=0)),
        worst=min((flag.urgency for flag in here), key=URGENCY_ORDER.__getitem__, default=""),
    )
