"""Everything computed about one client as their story reads it: stored where it stands as at the day asked for,
otherwise computed from the record as at that day, in the same shapes.

A story shows the last weeks; what is older is left where it is, so that two years cost what a quarter does.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.db.models import Min, Q, QuerySet
from django.utils import timezone

from coaching.monitoring.fact_sources import attach
from coaching.monitoring.models import ClientState, ExposureFact, Flag, LogFact, SessionFact, WeekFact
from coaching.monitoring.refresh import AssessedClients, assess_clients
from coaching.monitoring.session_marks import by_suggested_day
from roster.blocks.models import PlannedSession
from roster.logs.models import SessionLog
from roster.people.models import Client


@dataclass(frozen=True)
class ClientFacts:
    """Everything computed about one client, from the Monday asked for on."""

    state: ClientState | None
    # With planned_session and its block at hand; in order of suggested day, future ones too.
    sessions: list[SessionFact]
    # In order of week; the last due weeks that trends rest on are there in any case.
    weeks: list[WeekFact]
    # In the order in which they were met.
    exposures: list[ExposureFact]
    # With session_log at hand; newest first.
    logs: list[LogFact]
    # The same back to the first one: rows that are read when a part of them is asked for.
    all_logs: Sequence[LogFact] | QuerySet[LogFact]
    # The day of the first log, or the Monday of the first planned week.
    began_on: date | None
    flags: list[Flag]


def read_client(client: Client, *, as_of: date | None, since: date, now: datetime | None = None) -> ClientFacts:
    """`as_of` None is the client's own today. Of somebody who never sent anything the whole plan is read."""
    day = as_of or client.today(now or timezone.now())
    state = ClientState.objects.filter(client=client).first()
    if state and state.as_of == day:
        return _stored_client(client, state, since if state.last_log_on else date.min)
    return _computed_client(client, assess_clients(client.studio, {client.pk: day}), since)


def _stored_client(client: Client, state: ClientState, since: date) -> ClientFacts:
    sessions = client.session_facts.select_related("planned_session__block").filter(week_start__gte=since)
    logs = client.log_facts.select_related("session_log").order_by("-performed_on", "-pk")
    lately = Q(performed_on__gte=since) | Q(planned_exercise__session__suggested_on__gte=since)
    first_week = client.session_facts.aggregate(first=Min("week_start"))["first"]
    first_log = client.log_facts.aggregate(first=Min("performed_on"))["first"]
    return ClientFacts(
        state=state,
        sessions=list(sessions.order_by("planned_session__suggested_on", "pk")),
        weeks=_stored_weeks(client, since),
        exposures=list(client.exposure_facts.filter(lately).order_by("ordinal")),
        logs=list(logs.filter(performed_on__gte=since)),
        all_logs=logs,
        began_on=_earlier(first_week, first_log),
        flags=list(client.flags.standing().by_subject()),
    )


def _stored_weeks(client: Client, since: date) -> list[WeekFact]:
    from analytics.trends import WINDOWS_WEEKS

    due = client.week_facts.filter(due__gt=0).order_by("-week_start")[: max(WINDOWS_WEEKS)]
    weeks = {week.week_start: week for week in (*due, *client.week_facts.filter(week_start__gte=since))}
    return [weeks[monday] for monday in sorted(weeks)]


def _computed_client(client: Client, assessed: AssessedClients, since: date) -> ClientFacts:
    from coaching.monitoring.fact_rows import exposure_rows, log_rows, session_rows, state_rows, week_rows

    assessment = assessed.assessment
    sessions, logs = session_rows(assessment), log_rows(assessment)
    attach(sessions, "planned_session", PlannedSession.objects.select_related("block").filter(block__client=client))
    attach(logs, "session_log", SessionLog.objects.filter(client=client))
    in_order = sorted(sessions, key=by_suggested_day)
    newest_first = sorted(logs, key=lambda fact: (fact.performed_on, fact.pk), reverse=True)
    since = since if logs else date.min
    return ClientFacts(
        state=state_rows(assessment)[0],
        sessions=[session for session in in_order if session.week_start >= since],
        weeks=week_rows(assessment),
        exposures=exposure_rows(assessment),
        logs=[log for log in newest_first if log.performed_on >= since],
        all_logs=newest_first,
        began_on=_earlier(
            in_order[0].week_start if in_order else None, newest_first[-1].performed_on if newest_first else None
        ),
        flags=sorted(assessed.standing_flags(), key=lambda flag: (flag.kind, flag.subject)),
    )


def _earlier(first_week: date | None, first_log: date | None) -> date | None:
    return min((day for day in (first_week, first_log) if day), default=None)
