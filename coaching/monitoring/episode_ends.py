"""How episodes end: by themselves, by a coach's close, or because a pause explains them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from datetime import date, datetime

from django.db.models import Max

from coaching.monitoring.flag_rows import EpisodeKey, episode_key, event_of
from coaching.monitoring.models import Flag, FlagEvent, Kind
from roster.logs.models import SessionLog
from roster.people.models import Pause

_BEGINS = (FlagEvent.What.OPENED, FlagEvent.What.REOPENED)
_ENDS = (FlagEvent.What.CLEARED, FlagEvent.What.WITHDRAWN, FlagEvent.What.CLOSED)
# What doesn't hold while a client is paused.
_EXPLAINED_BY_PAUSES = (Kind.TURNOUT, Kind.PLAN_RUNS_OUT)


def tell_ends(
    over: list[Flag], events: Mapping[EpisodeKey, list[FlagEvent]], as_of: Mapping[int, date]
) -> list[FlagEvent]:
    """Mark episodes that no longer hold; answers what ended those of which it is not yet told."""
    pauses = _Pauses({flag.client_id for flag in over if flag.kind in _EXPLAINED_BY_PAUSES})
    new_events = []
    for flag in over:
        day = as_of[flag.client_id]
        flag.holds = False
        if flag.opened_on > day:
            continue
        flag.cleared_on = day
        of_episode = _events_of(flag, events.get(episode_key(flag), []))
        turns = [event.what for event in of_episode if event.what in _BEGINS or event.what in _ENDS]
        if turns and turns[-1] in _ENDS:
            continue
        what = FlagEvent.What.WITHDRAWN if pauses.explain(flag, of_episode, day) else FlagEvent.What.CLEARED
        new_events.append(event_of(flag, what, day))
    return new_events


def _events_of(flag: Flag, events: list[FlagEvent]) -> list[FlagEvent]:
    """From the first day of the episode to that of the next one."""
    next_ones = [event.on for event in events if event.what == FlagEvent.What.OPENED and event.on > flag.opened_on]
    until = min(next_ones, default=date.max)
    return [event for event in events if flag.opened_on <= event.on < until]


class _Pauses:
    """The pauses of some clients, asked whether one explains that a finding no longer holds."""

    def __init__(self, client_ids: set[int]) -> None:
        self.of_client: dict[int, list[Pause]] = defaultdict(list)
        self.last_received: dict[int, datetime] = {}
        if not client_ids:
            return
        for pause in Pause.objects.standing().filter(client_id__in=client_ids):
            self.of_client[pause.client_id].append(pause)
        of_clients = SessionLog.objects.filter(client_id__in=client_ids).order_by()
        newest = of_clients.values_list("client_id").annotate(Max("submission__received_at"))
        self.last_received = dict(newest)

    def explain(self, flag: Flag, events: list[FlagEvent], day: date) -> bool:
        """One that covers the day; for turnout also one entered since the finding opened, with no log sent since."""
        if flag.kind not in _EXPLAINED_BY_PAUSES:
            return False
        pauses = self.of_client[flag.client_id]
        if any(pause.from_on <= day <= pause.until_on for pause in pauses):
            return True
        opened_at = min((event.at for event in events if event.what == FlagEvent.What.OPENED), default=None)
        if flag.kind != Kind.TURNOUT or opened_at is None:
            return False
        last_received = self.last_received.get(flag.client_id, opened_at)
        return last_received <= opened_at and any(
            pause.entered_at > opened_at and pause.from_on <= day for pause in pauses
        )
