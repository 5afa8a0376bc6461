"""Facts and findings as pages read them: from the stored tables where these stand as at the day asked for,
otherwise computed from the record as at that day, in the same shapes."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from django.db.models import QuerySet
from django.utils import timezone

from coaching.monitoring.models import ClientState, ExposureFact, Flag, LogFact, SessionFact, WeekFact
from coaching.monitoring.refresh import AssessedClients, assess_clients, shards
from coaching.monitoring.session_marks import (
    SessionMark,
    WeekOutcome,
    mark_of,
    outcome_of,
    stored_marks,
    stored_outcomes,
)
from roster.blocks.models import PlannedSession
from roster.logs.models import SessionLog
from roster.people.models import Client
from roster.people.zones import local_date

# `run_due` comes by every ten minutes. So long after their midnight clients are still shown as they stood before it;
# then it is not coming, and what their new day brings is computed for each look.
TURN_OF_THE_DAY = timedelta(hours=1)


@dataclass(frozen=True)
class RosterFacts:
    """What the lists show of many clients, by client id."""

    states: dict[int, ClientState] = field(default_factory=dict)
    # Findings that hold and that no coach has closed; put aside ones too.
    flags: dict[int, list[Flag]] = field(default_factory=dict)
    # All marks of those clients whose facts were computed for this look; those of the others are in the database.
    computed: dict[int, list[SessionMark]] = field(default_factory=dict)
    # Clients whose day has just turned, shown as they stood the day before.
    turning: int = 0

    def read_marks(self, client_ids: Collection[int], *, since: date, until: date) -> dict[int, list[SessionMark]]:
        """Planned sessions of the weeks that begin from `since` to `until`, in order of suggested day."""
        found: dict[int, list[SessionMark]] = {
            pk: [mark for mark in self.computed[pk] if since <= mark.week_start <= until]
            for pk in client_ids if pk in self.computed
        }
        stored = [pk for pk in client_ids if pk in self.states and pk not in self.computed]
        sessions = SessionFact.objects.filter(client_id__in=stored, week_start__gte=since, week_start__lte=until)
        for client_id, mark in stored_marks(sessions):
            found.setdefault(client_id, []).append(mark)
        return found

    def read_outcomes(self, clients: QuerySet[Client], week_start: date) -> dict[int, WeekOutcome]:
        """What became of the sessions of one week."""
        sessions = SessionFact.objects.filter(client__in=clients, week_start=week_start)
        stored = stored_outcomes(sessions)
        return stored | {pk: outcome_of(marks, week_start) for pk, marks in self.computed.items()}


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
    clients: QuerySet[Client], *, as_of: date | None, with_evidence: bool = True, now: datetime | None = None
) -> RosterFacts:
    """Facts of many clients; `as_of` None is each client's own today.

    A list that only names its findings leaves their evidence where it is. Clients whose stored facts stand as at that
    day cost three queries together, however many they are.
    """
    moment = now or timezone.now()
    days = _days_asked(clients, as_of, moment)
    states = ClientState.objects.filter(client__in=clients).in_bulk()
    stored = {pk: state for pk, state in states.items() if pk in days and state.as_of in days[pk]}
    turning = sum(state.as_of != days[pk][0] for pk, state in stored.items())
    facts = RosterFacts(stored, turning=turning)
    if stored:
        _add_stored_flags(facts, clients, with_evidence=with_evidence)
    stale = [pk for pk in days if pk not in stored]
    for studio, shard in shards(Client.objects.filter(pk__in=stale), now=moment, as_of=as_of):
        _add_computed(facts, assess_clients(studio, shard))
    return facts


def _days_asked(clients: QuerySet[Client], as_of: date | None, moment: datetime) -> dict[int, tuple[date, ...]]:
    """By client: the day that facts are wanted for, and the one that they may still stand at."""
    zones = dict(clients.order_by().values_list("pk", "time_zone"))
    if as_of:
        return dict.fromkeys(zones, (as_of,))
    moments = (moment, moment - TURN_OF_THE_DAY)
    days = {zone: tuple(local_date(instant, zone) for instant in moments) for zone in set(zones.values())}
    return {pk: days[zone] for pk, zone in zones.items()}


def _add_stored_flags(facts: RosterFacts, clients: QuerySet[Client], *, with_evidence: bool) -> None:
    flags = Flag.objects.holding().filter(client__in=clients, closed_on__isnull=True)
    if not with_evidence:
        flags = flags.defer("evidence", "rule", "clears", "options")
    for flag in flags.order_by("client_id", "kind", "subject"):
        if flag.client_id in facts.states:
            facts.flags.setdefault(flag.client_id, []).append(flag)


def _add_computed(facts: RosterFacts, assessed: AssessedClients) -> None:
    from coaching.monitoring.fact_rows import session_rows, state_rows

    facts.states.update({state.client_id: state for state in state_rows(assessed.assessment)})
    facts.computed.update({pk: [] for pk in assessed.as_of})
    rows = session_rows(assessed.assessment)
    _attach(rows, "planned_session", PlannedSession.objects.filter(block__client_id__in=list(assessed.as_of)))
    for fact in sorted(rows, key=_by_suggested_day):
        facts.computed[fact.client_id].append(mark_of(fact))
    for flag in assessed.standing_flags():
        facts.flags.setdefault(flag.client_id, []).append(flag)


def _by_suggested_day(fact: SessionFact) -> tuple[date, int]:
    return fact.planned_session.suggested_on, fact.pk


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
