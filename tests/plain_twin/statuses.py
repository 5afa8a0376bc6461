"""What became of each planned session, as at a day D; the first that fits.

1. a log of it up to D: told without details, done from 80 % of its sets, else partial;
2. not_due: suggested within a pause or before the client joined;
3. missed: its week is over (weekly senders: by two days; at block end: the block is, by two days);
4. two days after the suggested day: overdue for who sends each session, else awaited;
5. to_come.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from tests.plain_twin.iso_weeks import sunday_of
from tests.plain_twin.linking import LinkedLog
from tests.plain_twin.record import Client, Log, PlannedSession
from tests.plain_twin.sets_of_rows import set_completion

DUE = ("done", "partial", "told", "missed", "overdue")
ATTENDED = ("done", "partial", "told")
NOT_ATTENDED = ("missed", "overdue")
GRACE = timedelta(days=2)


@dataclass(eq=False)
class SessionState:
    session: PlannedSession
    status: str
    log: Log | None
    set_completion: Fraction | None

    @property
    def is_due(self) -> bool:
        return self.status in DUE

    @property
    def is_done_later(self) -> bool:
        return self.log is not None and self.log.performed_on > sunday_of(self.session.suggested_on)


def session_states(client: Client, links: list[LinkedLog], as_of: date) -> list[SessionState]:
    """Every planned session of the client, in order of suggested day."""
    log_of = {link.session: link.log for link in links if link.standing == "first"}
    sessions = sorted(client.sessions, key=lambda session: session.suggested_on)
    return [_state(client, session, log_of.get(session), as_of) for session in sessions]


def _state(client: Client, session: PlannedSession, log: Log | None, as_of: date) -> SessionState:
    if log is not None:
        if not log.has_details:
            return SessionState(session, "told", log, None)
        completion = set_completion(session, log)
        return SessionState(session, "done" if completion >= Fraction(80, 100) else "partial", log, completion)
    status = status_without_log(client, session, as_of)
    return SessionState(session, status, None, Fraction(0) if status in NOT_ATTENDED else None)


def status_without_log(client: Client, session: PlannedSession, as_of: date) -> str:
    suggested_on = session.suggested_on
    if client.is_paused_on(suggested_on) or suggested_on < client.joined_on:
        return "not_due"
    if as_of > last_day_to_log(client, session):
        return "missed"
    if as_of >= suggested_on + GRACE:
        return "overdue" if client.sends == "each" else "awaited"
    return "to_come"


def last_day_to_log(client: Client, session: PlannedSession) -> date:
    if client.sends == "weekly":
        return sunday_of(session.suggested_on) + GRACE
    if client.sends == "block":
        return session.block.last_sunday + GRACE
    return sunday_of(session.suggested_on)


def turnout(states: list[SessionState]) -> Fraction | None:
    due = [state for state in states if state.is_due]
    if not due:
        return None
    return Fraction(sum(state.status in ATTENDED for state in due), len(due))
