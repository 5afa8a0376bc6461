"""Which planned session a log belongs to.

A log that names block, week and session belongs to that session. Another one belongs to the session of its ISO week
with which it shares most exercises (warm-ups count too); ties go to the nearest suggested day, then the earlier.
Sharing none makes it an extra session. Of several logs of one session the first performed is its log; on one day
a log that named the session goes before one that was found for it, then the one filed earlier.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from tests.plain_twin.iso_weeks import monday_of
from tests.plain_twin.record import Client, Log, PlannedSession, fold


@dataclass(eq=False)
class LinkedLog:
    log: Log
    session: PlannedSession | None
    standing: str


def link_logs(client: Client, as_of: date) -> list[LinkedLog]:
    """The client's logs up to and including a day: each as "first", "second" or "extra"."""
    linked = [LinkedLog(log, find_session(client, log), "extra") for log in client.logs if log.performed_on <= as_of]
    linked.sort(key=lambda link: (link.log.performed_on, link.log.names is None, link.log.filed))
    sessions_with_a_log: set[PlannedSession] = set()
    for link in linked:
        if link.session is not None:
            link.standing = "second" if link.session in sessions_with_a_log else "first"
            sessions_with_a_log.add(link.session)
    return linked


def find_session(client: Client, log: Log) -> PlannedSession | None:
    if log.names is not None:
        return _named_session(client, log.names)
    candidates = [
        session
        for session in client.sessions
        if monday_of(session.suggested_on) == monday_of(log.performed_on) and shared_exercises(session, log) > 0
    ]
    if not candidates:
        return None
    return min(
        candidates,
        key=lambda session: (
            -shared_exercises(session, log),
            abs((session.suggested_on - log.performed_on).days),
            session.suggested_on,
        ),
    )


def _named_session(client: Client, names: tuple[str, int, str]) -> PlannedSession:
    for session in client.sessions:
        if (fold(session.block.label), session.week, fold(session.label)) == names:
            return session
    raise LookupError(f"no planned session is called {names}")


def shared_exercises(session: PlannedSession, log: Log) -> int:
    planned = {planned.exercise for planned in session.exercises}
    done = {logged.exercise for logged in log.sets}
    return len(planned & done)
