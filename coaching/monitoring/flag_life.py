"""The life of findings: an episode opens, changes, clears by itself, is reopened when it becomes worse.

Storing the same findings again changes nothing. Going back to an earlier day leaves later episodes in place, not
holding; coming forward again finds them there, with nothing told twice.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import date

from coaching.databases.compiled import CompiledRead, all_columns
from coaching.monitoring.episode_ends import tell_ends
from coaching.monitoring.flag_rows import EpisodeKey, apply_acts, episode_key, event_of, events_by_episode
from coaching.monitoring.models import ClientState, Flag, FlagEvent

_CHANGING = [
    "subject", "urgency", "opened_on", "holds", "cleared_on", "sentence", "remark", "evidence", "rule", "clears",
    "options", "seen_on", "put_aside_until", "closed_on",
]
_FLAGS = CompiledRead(lambda ids: Flag.objects.filter(client_id__in=ids), all_columns(Flag))
_LOOKED_ON = CompiledRead(lambda ids: ClientState.objects.filter(client_id__in=ids), ["client_id", "as_of"])
_TELLS_URGENCY = (FlagEvent.What.OPENED, FlagEvent.What.CHANGED, FlagEvent.What.REOPENED)


def reconcile(flags: list[Flag], as_of: Mapping[int, date]) -> None:
    """Make the stored flags of the clients in `as_of` those of `flags`, computed as at each client's day.

    To be called before the clients' new state is stored: what it says of the day looked at last parts an episode that
    goes on from a new one of the same kind.
    """
    stored = _stored_episodes(as_of)
    events = events_by_episode(as_of)
    looked_on = dict(_LOOKED_ON.rows(as_of))
    new_events: list[FlagEvent] = []
    changed: list[Flag] = []
    for flag in flags:
        day, key = as_of[flag.client_id], episode_key(flag)
        episode = _same_episode(flag, stored[key], day, looked_on.get(flag.client_id, date.max))
        if episode is None:
            new_events += _opened(flag, events[key])
        else:
            stored[key].remove(episode)
            new_events += _changed(flag, events[key], day)
            flag.pk = episode.pk
        if apply_acts(flag, events[key], day):
            new_events.append(event_of(flag, FlagEvent.What.REOPENED, day))
        if episode is None or _differs(flag, episode):
            changed.append(flag)
    over = [episode for episodes in stored.values() for episode in episodes if _is_over(episode, as_of)]
    new_events += tell_ends(over, events, as_of)
    _save(changed, over, new_events)


def _stored_episodes(as_of: Mapping[int, date]) -> dict[EpisodeKey, list[Flag]]:
    stored: dict[EpisodeKey, list[Flag]] = defaultdict(list)
    for flag in _FLAGS.objects(as_of):
        stored[episode_key(flag)].append(flag)
    return stored


def _same_episode(flag: Flag, episodes: Iterable[Flag], day: date, looked_on: date) -> Flag | None:
    """The stored episode that `flag` goes on with: the same first day, or days in common.

    One that began earlier, when the condition began after the day looked at last, must have ended in between.
    """
    overlapping = []
    for episode in episodes:
        if episode.opened_on == flag.opened_on:
            return episode
        ended = episode.cleared_on is not None and episode.cleared_on <= flag.opened_on
        is_broken = episode.opened_on < flag.opened_on and looked_on < flag.opened_on
        if episode.opened_on <= day and not ended and not is_broken:
            overlapping.append(episode)
    return max(overlapping, key=lambda episode: episode.opened_on, default=None)


def _opened(flag: Flag, events: list[FlagEvent]) -> list[FlagEvent]:
    is_known = any(event.what == FlagEvent.What.OPENED and event.on == flag.opened_on for event in events)
    return [] if is_known else [event_of(flag, FlagEvent.What.OPENED, flag.opened_on)]


def _changed(flag: Flag, events: list[FlagEvent], day: date) -> list[FlagEvent]:
    """That the urgency is another than the events of the episode, up to the day, have told last."""
    told = [
        event.urgency for event in events
        if event.what in _TELLS_URGENCY and flag.opened_on <= event.on <= day
    ]
    return [event_of(flag, FlagEvent.What.CHANGED, day)] if told and told[-1] != flag.urgency else []


def _differs(flag: Flag, episode: Flag) -> bool:
    return any(getattr(flag, name) != getattr(episode, name) for name in _CHANGING)


def _is_over(episode: Flag, as_of: Mapping[int, date]) -> bool:
    """Of episodes that none of the findings goes on with: whether there is something to say of its end."""
    return episode.holds or (episode.cleared_on is None and episode.opened_on <= as_of[episode.client_id])


def _save(changed: list[Flag], over: list[Flag], new_events: list[FlagEvent]) -> None:
    known = [flag for flag in changed if flag.pk is not None]
    Flag.objects.bulk_create([flag for flag in changed if flag.pk is None])
    Flag.objects.bulk_update(known, [*_CHANGING, "exercise"], batch_size=200)
    Flag.objects.bulk_update(over, ["holds", "cleared_on"], batch_size=500)
    FlagEvent.objects.bulk_create(new_events)
