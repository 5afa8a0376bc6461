"""Facts and findings as pages read them: from the stored tables where these stand as at the day asked for,
otherwise computed from the record as at that day, in the same shapes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import lru_cache
from typing import NamedTuple

from django.db.models import CharField, Q, QuerySet
from django.db.models.functions import Cast
from django.utils import timezone

from coaching.monitoring.models import ClientState, ExposureFact, Flag, LogFact, SessionFact, WeekFact
from coaching.monitoring.refresh import AssessedClients, assess_clients, shards
from roster.blocks.models import PlannedSession
from roster.logs.models import SessionLog
from roster.people.models import Client
from roster.people.zones import local_date

# As `since`, for a list that shows no marks.
NO_MARKS = date.max


class SessionMark(NamedTuple):
    """What a mark of the turnout strip tells."""

    client_id: int
    session_id: int
    week_start: date
    block_week: int
    label: str
    suggested_on: date
    status: str
    set_completion: float | None
    done_later: bool | None
    performed_on: date | None
    counted_sets: int
    planned_sets: int


@dataclass(frozen=True)
class RosterFacts:
    """What the lists show of many clients, by client id."""

    states: dict[int, ClientState] = field(default_factory=dict)
    # Planned sessions in order of suggested day.
    marks: dict[int, list[SessionMark]] = field(default_factory=dict)
    # Findings that hold and that no coach has closed; put aside ones too.
    flags: dict[int, list[Flag]] = field(default_factory=dict)


@dataclass(frozen=True)
class ClientFacts:
    """Everything computed about one client."""

    state: ClientState | None
    # With planned_session and its block at hand; in order of suggested day.
    sessions: list[SessionFact]
    # In order of week.
    weeks: list[WeekFact]
    # In the order in which they were met.
    exposures: list[ExposureFact]
    # With session_log at hand; newest first.
    logs: list[LogFact]
    flags: list[Flag]


def read_roster(
    clients: QuerySet[Client],
    *,
    as_of: date | None,
    since: date | None = None,
    until: date | None = None,
    quiet_week: date | None = None,
    is_at_hand: Callable[[ClientState], bool] | None = None,
    now: datetime | None = None,
) -> RosterFacts:
    """Facts of many clients; `as_of` None is each client's own today.

    Marks of the weeks that begin from `since` to `until`; with `quiet_week`, a Monday, of clients without a finding
    only those of that week; none of clients whose stored facts the caller says it has at hand.
    Clients whose stored facts stand as at that day cost three queries together, however many they are.
    """
    moment = now or timezone.now()
    zones = clients.order_by().values_list("pk", "time_zone")
    days = {pk: as_of or local_date(moment, zone) for pk, zone in zones}
    states = ClientState.objects.filter(client__in=clients).in_bulk()
    is_stored = {pk for pk, day in days.items() if pk in states and states[pk].as_of == day}
    facts = RosterFacts({pk: states[pk] for pk in days if pk in is_stored})
    if is_stored:
        _add_stored_flags(facts, clients, is_stored)
        sessions = _sessions_between(since, until).filter(client__in=clients)
        if quiet_week:
            sessions = sessions.filter(Q(week_start=quiet_week) | Q(client_id__in=list(facts.flags)))
        if is_at_hand:
            sessions = sessions.filter(client_id__in=[pk for pk in is_stored if not is_at_hand(states[pk])])
        _add_stored_marks(facts, sessions, is_stored)
    stale = [pk for pk in days if pk not in is_stored]
    for studio, shard in shards(Client.objects.filter(pk__in=stale), now=moment, as_of=as_of):
        _add_computed(facts, assess_clients(studio, shard), since or date.min, until or date.max)
    return facts


def _add_stored_flags(facts: RosterFacts, clients: QuerySet[Client], is_stored: set[int]) -> None:
    flags = Flag.objects.holding().filter(client__in=clients, closed_on__isnull=True)
    for flag in flags.order_by("client_id", "kind", "subject"):
        if flag.client_id in is_stored:
            facts.flags.setdefault(flag.client_id, []).append(flag)


def _sessions_between(since: date | None, until: date | None) -> QuerySet[SessionFact]:
    sessions = SessionFact.objects.all()
    if since:
        sessions = sessions.filter(week_start__gte=since)
    return sessions.filter(week_start__lte=until) if until else sessions


def _add_stored_marks(facts: RosterFacts, sessions: QuerySet[SessionFact], is_stored: set[int]) -> None:
    for mark in _stored_marks(sessions):
        if mark.client_id in is_stored:
            facts.marks.setdefault(mark.client_id, []).append(mark)


def _stored_marks(sessions: QuerySet[SessionFact]) -> Iterator[SessionMark]:
    rows = sessions.order_by("client_id", "planned_session__suggested_on", "pk").values_list(
        "client_id", "pk", _as_text("week_start"), "planned_session__week", "planned_session__label",
        _as_text("planned_session__suggested_on"), "status", "set_completion", "done_later", _as_text("performed_on"),
        "counted_sets", "planned_sets",
    )
    for client_id, pk, week, block_week, label, suggested, status, share, later, performed, counted, planned in rows:
        yield SessionMark(
            client_id, pk, _day(week), block_week, label, _day(suggested), status, share, later,
            performed and _day(performed), counted, planned,
        )


def _as_text(day_field: str) -> Cast:
    """A list holds ten thousand days but few different ones: as text each of these is parsed once."""
    return Cast(day_field, CharField())


@lru_cache(maxsize=4096)
def _day(text: str) -> date:
    return date.fromisoformat(text)


def _add_computed(facts: RosterFacts, assessed: AssessedClients, since: date, until: date) -> None:
    from coaching.monitoring.fact_rows import session_rows, state_rows

    facts.states.update({state.client_id: state for state in state_rows(assessed.assessment)})
    rows = session_rows(assessed.assessment)
    _attach(rows, "planned_session", PlannedSession.objects.filter(block__client_id__in=list(assessed.as_of)))
    for fact in sorted(rows, key=_by_suggested_day):
        if since <= fact.week_start <= until:
            facts.marks.setdefault(fact.client_id, []).append(mark_of(fact))
    for flag in assessed.standing_flags():
        facts.flags.setdefault(flag.client_id, []).append(flag)


def _by_suggested_day(fact: SessionFact) -> tuple[date, int]:
    return fact.planned_session.suggested_on, fact.pk


def mark_of(fact: SessionFact) -> SessionMark:
    """The mark of a fact that has its planned session at hand."""
    planned = fact.planned_session
    return SessionMark(
        client_id=fact.client_id,
        session_id=planned.pk,
        week_start=fact.week_start,
        block_week=planned.week,
        label=planned.label,
        suggested_on=planned.suggested_on,
        status=str(fact.status),
        set_completion=fact.set_completion,
        done_later=fact.done_later,
        performed_on=fact.performed_on,
        counted_sets=fact.counted_sets,
        planned_sets=fact.planned_sets,
    )


def read_client(client: Client, *, as_of: date | None, now: datetime | None = None) -> ClientFacts:
    """Everything computed about one client, stored or computed; `as_of` None is the client's own today."""
    day = as_of or client.today(now or timezone.now())
    state = ClientState.objects.filter(client=client).first()
    if state and state.as_of == day:
        return _stored_client(client, state)
    return _computed_client(client, assess_clients(client.studio, {client.pk: day}))


def _stored_client(client: Client, state: ClientState) -> ClientFacts:
    return ClientFacts(
        state=state,
        sessions=list(
            client.session_facts.select_related("planned_session__block").order_by(
                "planned_session__suggested_on", "pk"
            )
        ),
        weeks=list(client.week_facts.order_by("week_start")),
        exposures=list(client.exposure_facts.order_by("ordinal")),
        logs=list(client.log_facts.select_related("session_log").order_by("-performed_on", "-pk")),
        flags=list(client.flags.holding().filter(closed_on__isnull=True).order_by("kind", "subject")),
    )


def _computed_client(client: Client, assessed: AssessedClients) -> ClientFacts:
    from coaching.monitoring.fact_rows import exposure_rows, log_rows, session_rows, state_rows, week_rows

    assessment = assessed.assessment
    sessions, logs = session_rows(assessment), log_rows(assessment)
    _attach(sessions, "planned_session", PlannedSession.objects.select_related("block").filter(block__client=client))
    _attach(logs, "session_log", SessionLog.objects.filter(client=client))
    return ClientFacts(
        state=state_rows(assessment)[0],
        sessions=sorted(sessions, key=_by_suggested_day),
        weeks=week_rows(assessment),
        exposures=exposure_rows(assessment),
        logs=sorted(logs, key=lambda fact: (fact.performed_on, fact.pk), reverse=True),
        flags=sorted(assessed.standing_flags(), key=lambda flag: (flag.kind, flag.subject)),
    )


def _attach(facts: Iterable[SessionFact | LogFact], name: str, rows: QuerySet) -> None:  # type: ignore[type-arg]
    """Put each fact's own row at hand, as select_related does for stored facts."""
    by_id = rows.in_bulk()
    for fact in facts:
        setattr(fact, name, by_id[fact.pk])
