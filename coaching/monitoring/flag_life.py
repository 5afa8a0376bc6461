"""The life of findings: an episode opens, changes, clears by itself, is reopened when it becomes worse.

Storing the same findings again changes nothing. Going back to an earlier day leaves later episodes in place, not
holding; coming forward again finds them there.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import date, datetime

from coaching.monitoring.flag_rows import EpisodeKey, apply_acts, episode_key, events_by_episode
from coaching.monitoring.models import Flag, FlagEvent, Kind
from roster.people.models import Pause

_CHANGING = [
    "subject", "urgency", "opened_on", "holds", "cleared_on", "sentence", "remark", "evidence", "rule", "clears",
    "options", "seen_on", "put_aside_until", "closed_on",
]


def reconcile(flags: list[Flag], as_of: Mapping[int, date]) -> None:
    """Make the stored flags of the clients in `as_of` those of `flags`, computed as at each client's day."""
    stored = _stored_episodes(as_of)
    events = events_by_episode(as_of)
    new_events: list[FlagEvent] = []
    changed: list[Flag] = []
    for flag in flags:
        day = as_of[flag.client_id]
        episode = _same_episode(flag, stored[episode_key(flag)], day)
        if episode is None:
            new_events += _opened(flag, events[episode_key(flag)])
        else:
            stored[episode_key(flag)].remove(episode)
            new_events += _changed(flag, episode, day)
            flag.pk = episode.pk
        if apply_acts(flag, events[episode_key(flag)], day):
            new_events.append(_event(flag, FlagEvent.What.REOPENED, day))
        if episode is None or _differs(flag, episode):
            changed.append(flag)
    over = [episode for episodes in stored.values() for episode in episodes if episode.holds]
    new_events += _cleared(over, events, as_of)
    _save(changed, over, new_events)


def _stored_episodes(as_of: Mapping[int, date]) -> dict[EpisodeKey, list[Flag]]:
    stored: dict[EpisodeKey, list[Flag]] = defaultdict(list)
    for flag in Flag.objects.filter(client_id__in=list(as_of)):
        stored[episode_key(flag)].append(flag)
    return stored


def _same_episode(flag: Flag, episodes: list[Flag], as_of: date) -> Flag | None:
    """The stored episode that `flag` goes on with: the same first day, or days in common."""
    for episode in episodes:
        if episode.opened_on == flag.opened_on:
            return episode
    overlapping = [
        episode for episode in episodes
        if episode.opened_on <= as_of and (episode.cleared_on is None or episode.cleared_on > flag.opened_on)
    ]
    return max(overlapping, key=lambda episode: episode.opened_on, default=None)


def _opened(flag: Flag, events: list[FlagEvent]) -> list[FlagEvent]:
    is_known = any(event.what == FlagEvent.What.OPENED and event.on == flag.opened_on for event in events)
    return [] if is_known else [_event(flag, FlagEvent.What.OPENED, flag.opened_on)]


def _changed(flag: Flag, episode: Flag, day: date) -> list[FlagEvent]:
    if not episode.holds or episode.urgency == flag.urgency:
        return []
    return [_event(flag, FlagEvent.What.CHANGED, day)]


def _event(flag: Flag, what: str, on: date) -> FlagEvent:
    return FlagEvent(
        client_id=flag.client_id, kind=flag.kind, subject=flag.subject, what=what, on=on, urgency=flag.urgency
    )


def _differs(flag: Flag, episode: Flag) -> bool:
    return any(getattr(flag, name) != getattr(episode, name) for name in _CHANGING)


def _cleared(
    over: list[Flag], events: Mapping[EpisodeKey, list[FlagEvent]], as_of: Mapping[int, date]
) -> list[FlagEvent]:
    """Take episodes that no longer hold off the list, and say what ended them."""
    pauses = _pauses_of({flag.client_id for flag in over})
    new_events = []
    for flag in over:
        day = as_of[flag.client_id]
        flag.holds = False
        if flag.opened_on > day:
            continue
        flag.cleared_on = day
        of_episode = [event for event in events.get(episode_key(flag), []) if flag.opened_on <= event.on <= day]
        ended = {FlagEvent.What.CLEARED, FlagEvent.What.WITHDRAWN, FlagEvent.What.CLOSED}
        if flag.closed_on or any(event.what in ended for event in of_episode):
            continue
        opened_at = min((event.at for event in of_episode if event.what == FlagEvent.What.OPENED), default=None)
        is_explained = _is_explained(flag, pauses[flag.client_id], opened_at, day)
        what = FlagEvent.What.WITHDRAWN if is_explained else FlagEvent.What.CLEARED
        new_events.append(_event(flag, what, day))
    return new_events


def _pauses_of(client_ids: Iterable[int]) -> dict[int, list[Pause]]:
    found: dict[int, list[Pause]] = defaultdict(list)
    for pause in Pause.objects.standing().filter(client_id__in=list(client_ids)):
        found[pause.client_id].append(pause)
    return found


def _is_explained(flag: Flag, pauses: list[Pause], opened_at: datetime | None, day: date) -> bool:
    """Whether a pause that was entered after the finding opened took its ground away."""
    return flag.kind == Kind.TURNOUT and opened_at is not None and any(
        pause.entered_at > opened_at and pause.from_on <= day for pause in pauses
    )


def _save(changed: list[Flag], over: list[Flag], new_events: list[FlagEvent]) -> None:
    known = [flag for flag in changed if flag.pk is not None]
    Flag.objects.bulk_create([flag for flag in changed if flag.pk is None])
    Flag.objects.bulk_update(known, [*_CHANGING, "exercise"], batch_size=200)
    Flag.objects.bulk_update(over, ["holds", "cleared_on"], batch_size=500)
    FlagEvent.objects.bulk_create(new_events)
