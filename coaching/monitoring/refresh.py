"""Facts and findings brought up to date: of one client when something of theirs changes, of all at a day."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import nullcontext
from dataclasses import dataclass
from datetime import date, datetime
from operator import attrgetter
from typing import TYPE_CHECKING

from django.db import connection, transaction

from coaching.databases.compiled import CompiledRead, all_columns
from coaching.databases.planning import joining_whole_tables
from coaching.monitoring.models import ClientState, Flag
from roster.people.models import Client, Studio

if TYPE_CHECKING:
    from analytics.assessment import Assessment

# Clients assessed in one pass: bounds memory, and costs no time.
SHARD_CLIENTS = 250
# Clients stored in one transaction: bounds how long another writer may have to wait.
STORED_CLIENTS = 50
# So many are found by their rows; the tables of more are read whole.
FEW_CLIENTS = 5
# As much of a client as says which day it is for them.
_WHOSE_DAY = CompiledRead(
    lambda ids: Client.objects.filter(pk__in=ids).order_by("pk"), ["id", "studio_id", "time_zone"]
)
_STUDIOS = CompiledRead(lambda ids: Studio.objects.filter(pk__in=ids), all_columns(Studio))


@dataclass(frozen=True)
class AssessedClients:
    """Some clients of one studio, assessed; `as_of` is each one's day."""

    assessment: Assessment
    # The region of a log's pain as it was written, by the log's id.
    regions: dict[int, str]
    as_of: dict[int, date]

    def flags(self) -> list[Flag]:
        from coaching.monitoring.flag_rows import build_flags

        return build_flags(self.assessment, self.regions)

    def standing_flags(self) -> list[Flag]:
        """The findings that no coach has closed, with what coaches did about each by its day."""
        return [flag for flag in self.flags_with_acts() if flag.closed_on is None]

    def flags_with_acts(self) -> list[Flag]:
        """All findings that hold, closed ones too, with what coaches did about each by its day."""
        from coaching.monitoring.flag_rows import apply_acts, episode_key, events_by_episode

        events = events_by_episode(self.as_of)
        flags = self.flags()
        for flag in flags:
            apply_acts(flag, events[episode_key(flag)], self.as_of[flag.client_id])
        return flags


def assess_clients(studio: Studio, as_of: Mapping[int, date]) -> AssessedClients:
    """Compute, store nothing. The numbers of the rules are the studio's."""
    # pandas comes in here, so that pages that only read stored facts do not load it.
    from analytics.assessment import assess
    from analytics.flag_thresholds import Thresholds
    from coaching.monitoring.frames import load_record

    with joining_whole_tables() if len(as_of) > FEW_CLIENTS else nullcontext():
        loaded = load_record(as_of)
    assessment = assess(loaded.record, Thresholds.with_settings(studio.thresholds))
    return AssessedClients(assessment, loaded.regions, dict(as_of))


def refresh_clients(clients: Iterable[int], now: datetime, progress: Callable[[int], None] | None = None) -> None:
    """Facts and flags of the clients with these ids, as at their own today; touches no other client."""
    reassess(_WHOSE_DAY.objects(set(clients)), now=now, progress=progress)


def reassess(
    clients: Iterable[Client],
    *,
    now: datetime,
    as_of: date | None = None,
    progress: Callable[[int], None] | None = None,
) -> int:
    """Store facts and flags as at `as_of`, or at each client's own today; answers how many clients were done."""
    # In the order in which they are locked, also from one part to the next: no two of these wait for each other.
    in_order = sorted(clients, key=attrgetter("pk"))
    done = 0
    for studio, shard in shards(in_order, now=now, as_of=as_of, size=STORED_CLIENTS):
        _refresh(studio, shard)
        done += len(shard)
        if progress:
            progress(done)
    return done


def shards(
    clients: Iterable[Client], *, now: datetime, as_of: date | None, size: int = SHARD_CLIENTS
) -> Iterator[tuple[Studio, dict[int, date]]]:
    """Clients with their days, in groups of one studio that fit into memory."""
    by_studio: dict[int, dict[int, date]] = {}
    for client in clients:
        by_studio.setdefault(client.studio_id, {})[client.pk] = as_of or client.today(now)
    studios = {studio.pk: studio for studio in _STUDIOS.objects(by_studio)}
    for studio_id, days in by_studio.items():
        studio, ids = studios[studio_id], list(days)
        for start in range(0, len(ids), size):
            yield studio, {pk: days[pk] for pk in ids[start : start + size]}


@transaction.atomic
def _refresh(studio: Studio, as_of: Mapping[int, date]) -> None:
    """Read and store in one transaction, one at a time for each client: no log that comes in meanwhile is left out."""
    from coaching.monitoring.fact_tables import store_facts
    from coaching.monitoring.flag_life import reconcile

    if connection.features.has_select_for_update:
        list(Client.objects.select_for_update().filter(pk__in=list(as_of)).order_by("pk").values_list("pk"))
    assessed = assess_clients(studio, as_of)
    # First, while the stored state still says which day was looked at last.
    reconcile(assessed.flags(), assessed.as_of)
    store_facts(assessed.assessment)


def stale_clients(now: datetime) -> list[Client]:
    """Clients whose facts do not stand as at their own today, or who have none yet."""
    states = dict(ClientState.objects.values_list("client_id", "as_of"))
    return [client for client in Client.objects.not_ended() if states.get(client.pk) != client.today(now)]


def run_due(now: datetime, progress: Callable[[int], None] | None = None) -> int:
    """Whatever is due now: the midnight ageing of every client whose day has turned. Safe to run twice."""
    return reassess(stale_clients(now), now=now, progress=progress)
