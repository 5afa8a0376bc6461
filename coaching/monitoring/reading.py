"""Facts and findings of many clients as lists read them: from the stored tables where these stand as at the day
asked for, otherwise computed from the record as at that day, in the same shapes."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from itertools import groupby
from operator import itemgetter

from django.db.models import QuerySet
from django.utils import timezone

from coaching.monitoring.fact_sources import attach
from coaching.monitoring.models import ClientState, Flag, SessionFact
from coaching.monitoring.refresh import AssessedClients, assess_clients, shards
from coaching.monitoring.session_marks import (
    SessionMark,
    WeekOutcome,
    by_suggested_day,
    mark_of,
    outcome_of,
    stored_marks,
    stored_outcomes,
)
from roster.blocks.models import PlannedSession
from roster.people.models import Client
from roster.people.zones import local_date

# `run_due` comes by every ten minutes. So long after their midnight clients are still shown as they stood before it;
# then it is not coming, and what their new day brings is computed for each look.
TURN_OF_THE_DAY = timedelta(hours=1)
# What a finding unfolds to.
EVIDENCE = ("evidence", "rule", "clears", "options")


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

    def read_marks(
        self, client_ids: Collection[int], *, since: date, until: date
    ) -> Iterator[tuple[int, list[SessionMark]]]:
        """Client by client, planned sessions of the weeks from `since` to `until`, in order of suggested day."""
        for pk in client_ids:
            if pk in self.computed:
                yield pk, [mark for mark in self.computed[pk] if since <= mark.week_start <= until]
        stored = [pk for pk in client_ids if pk in self.states and pk not in self.computed]
        sessions = SessionFact.objects.filter(client_id__in=stored, week_start__gte=since, week_start__lte=until)
        for pk, of_client in groupby(stored_marks(sessions), key=itemgetter(0)):
            yield pk, [mark for _, mark in of_client]

    def read_outcomes(self, clients: QuerySet[Client], week_start: date) -> dict[int, WeekOutcome]:
        """What became of the sessions of one week."""
        sessions = SessionFact.objects.filter(client__in=clients, week_start=week_start)
        stored = stored_outcomes(sessions)
        return stored | {pk: outcome_of(marks, week_start) for pk, marks in self.computed.items()}


def add_evidence(flags: Iterable[Flag]) -> None:
    """Brings what a list has left where it is to those findings that it shows in full; one query."""
    lacking = {flag.pk: flag for flag in flags if EVIDENCE[0] in flag.get_deferred_fields()}
    for pk, *values in Flag.objects.filter(pk__in=lacking).values_list("pk", *EVIDENCE):
        for name, value in zip(EVIDENCE, values, strict=True):
            setattr(lacking[pk], name, value)


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
    flags = Flag.objects.standing().filter(client__in=clients)
    if not with_evidence:
        flags = flags.defer(*EVIDENCE)
    for flag in flags.by_subject("client_id"):
        if flag.client_id in facts.states:
            facts.flags.setdefault(flag.client_id, []).append(flag)


def _add_computed(facts: RosterFacts, assessed: AssessedClients) -> None:
    from coaching.monitoring.fact_rows import session_rows, state_rows

    facts.states.update({state.client_id: state for state in state_rows(assessed.assessment)})
    facts.computed.update({pk: [] for pk in assessed.as_of})
    rows = session_rows(assessed.assessment)
    attach(rows, "planned_session", PlannedSession.objects.filter(block__client_id__in=list(assessed.as_of)))
    for fact in sorted(rows, key=by_suggested_day):
        facts.computed[fact.client_id].append(mark_of(fact))
    for flag in assessed.standing_flags():
        facts.flags.setdefault(flag.client_id, []).append(flag)
