"""The sessions of one week, each as a mark with its figures."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Max, Min, Q
from django.utils.safestring import SafeString

from analytics.iso_weeks import monday_of
from coaching.desk.marks import mark, strip
from coaching.monitoring.client_reading import ClientFacts
from coaching.monitoring.mark_words import ExtraMark
from coaching.monitoring.models import ExposureFact, LogFact, SessionFact
from coaching.monitoring.plain_words import day_text
from coaching.monitoring.session_marks import SessionMark, mark_of
from roster.blocks.models import PlannedSession
from roster.logs.models import SessionLog
from roster.people.models import Client

STRIP_WEEKS = 12


@dataclass(frozen=True, slots=True)
class WeekLine:
    """One session of the week, planned or extra."""

    mark: SafeString
    label: str
    day: str
    sets: str
    tonnage_g: int | None
    log: SessionLog | None
    # What fell short of what was asked, such as "Goblet squat 9-9-8-6".
    short: list[str]


@dataclass(frozen=True)
class ThisWeek:
    # Such as "week 4 of Block 5".
    title: str
    lines: list[WeekLine]
    # The planned days around a week without any; none where there is none.
    latest_before: date | None
    next_after: date | None


def build_week(client: Client, facts: ClientFacts, names: dict[int, str], day: date) -> ThisWeek:
    monday = monday_of(day)
    logs = {log.session_log_id: log for log in facts.logs}
    planned = [session for session in facts.sessions if session.week_start == monday]
    lines = [_planned_line(session, logs.get(session.session_log_id), facts, names) for session in planned]
    unplanned = [log for log in reversed(facts.logs) if _stands_beside(log) and monday_of(log.performed_on) == monday]
    lines += [_unplanned_line(log) for log in unplanned]
    latest_before, next_after = (None, None) if lines else _planned_around(client, monday)
    return ThisWeek(_title(planned), lines, latest_before, next_after)


def _planned_around(client: Client, monday: date) -> tuple[date | None, date | None]:
    planned = PlannedSession.objects.filter(block__client=client, block__published_at__isnull=False)
    around = planned.aggregate(
        before=Max("suggested_on", filter=Q(suggested_on__lt=monday)),
        after=Min("suggested_on", filter=Q(suggested_on__gt=monday)),
    )
    return around["before"], around["after"]


def strip_of(facts: ClientFacts, day: date) -> SafeString:
    """The last twelve weeks, session by session."""
    since = monday_of(day) - timedelta(weeks=STRIP_WEEKS - 1)
    until = monday_of(day) + timedelta(days=6)
    planned = [mark_of(session) for session in facts.sessions if since <= session.week_start <= until]
    extras = [_extra(log) for log in facts.logs if log.standing == LogFact.Standing.EXTRA and log.performed_on >= since]
    return strip(sorted([*planned, *extras], key=_week_and_day))


def _week_and_day(one: SessionMark | ExtraMark) -> tuple[date, date]:
    """A session done later stays in the week that it was planned for."""
    day = one.performed_on if isinstance(one, ExtraMark) else one.suggested_on
    return one.week_start, day


def _title(planned: Sequence[SessionFact]) -> str:
    weeks = {(one.planned_session.week, one.planned_session.block.label): None for one in planned}
    return ", ".join(f"week {week} of {label}" for week, label in weeks)


def _stands_beside(log: LogFact) -> bool:
    return log.standing != LogFact.Standing.FIRST


def _extra(log: LogFact) -> ExtraMark:
    return ExtraMark(log.performed_on, log.working_sets)


def _planned_line(session: SessionFact, log: LogFact | None, facts: ClientFacts, names: dict[int, str]) -> WeekLine:
    counts = bool(log) and session.status in ("done", "partial")
    return WeekLine(
        mark=mark(mark_of(session)),
        label=session.planned_session.label,
        day=day_text(session.performed_on or session.planned_session.suggested_on),
        sets=f"{session.counted_sets if counts else 0} of {session.planned_sets}" if _tells_sets(session) else "",
        tonnage_g=log.tonnage_g if log else None,
        log=log.session_log if log else None,
        short=_short(facts.exposures, names, session.session_log_id) if counts else [],
    )


def _tells_sets(session: SessionFact) -> bool:
    return session.status in ("done", "partial", "missed", "overdue")


def _unplanned_line(log: LogFact) -> WeekLine:
    return WeekLine(
        mark=mark(_extra(log)),
        label="second log" if log.standing == LogFact.Standing.SECOND else "extra",
        day=day_text(log.performed_on),
        sets=str(log.working_sets),
        tonnage_g=log.tonnage_g,
        log=log.session_log,
        short=[],
    )


def _short(exposures: Iterable[ExposureFact], names: dict[int, str], session_log_id: int | None) -> list[str]:
    return [
        f"{names.get(one.exercise_id, 'an exercise')} {one.reps_done or 'not logged'}"
        for one in exposures
        if one.session_log_id == session_log_id and not one.met
    ]
