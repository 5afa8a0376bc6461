"""Findings as rows of flags, with what coaches have done about each, as at a day."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from datetime import date

from analytics.assessment import Assessment
from analytics.findings_schema import EXERCISE_KINDS
from analytics.findings_schema import Kind as FindingKind
from analytics.training_weeks import to_date
from coaching.monitoring.context import build_context
from coaching.monitoring.finding_words import KINDS, URGENCIES, subject_of, words_of
from coaching.monitoring.models import Flag, FlagEvent, Urgency

_SHORTEN_TO = 400
_RANK = {urgency: rank for rank, urgency in enumerate(Urgency.values)}
_KINDS_OF_EXERCISES = {KINDS[kind] for kind in EXERCISE_KINDS}

# Client, kind and exercise: what stays the same over the days of an episode.
EpisodeKey = tuple[int, str, str]


def episode_key(row: Flag | FlagEvent) -> EpisodeKey:
    subject = row.subject if row.kind in _KINDS_OF_EXERCISES else ""
    return row.client_id, row.kind, subject


def is_worse(urgency: str, than: str) -> bool:
    return _RANK[urgency] < _RANK[than]


def build_flags(assessment: Assessment, regions: list[str]) -> list[Flag]:
    """The findings of an assessment as unsaved flags that hold; what coaches did about them is not yet applied."""
    context = build_context(assessment, regions)
    client_ids = assessment.history.record.clients["client_id"].tolist()
    flags = []
    for finding in assessment.findings.to_dict("records"):
        words = words_of(context, finding)
        is_of_exercise = FindingKind(finding["kind"]) in EXERCISE_KINDS
        flags.append(
            Flag(
                client_id=client_ids[finding["client_row"]],
                kind=KINDS[finding["kind"]],
                subject=subject_of(context, finding),
                exercise_id=finding["subject"] if is_of_exercise else None,
                urgency=URGENCIES[finding["urgency"]],
                opened_on=to_date(finding["opened_day"]),
                sentence=words.sentence[:_SHORTEN_TO],
                remark=words.remark[:_SHORTEN_TO],
                evidence=words.evidence,
                rule=words.rule[:_SHORTEN_TO],
                clears=words.clears[:_SHORTEN_TO],
                options=words.options,
            )
        )
    return flags


def events_by_episode(client_ids: Iterable[int]) -> dict[EpisodeKey, list[FlagEvent]]:
    """What happened to the findings of some clients, oldest first."""
    found: dict[EpisodeKey, list[FlagEvent]] = defaultdict(list)
    for event in FlagEvent.objects.filter(client_id__in=list(client_ids)).order_by("on", "pk"):
        found[episode_key(event)].append(event)
    return found


def apply_acts(flag: Flag, events: list[FlagEvent], as_of: date) -> bool:
    """Set where coaches left an episode, by their acts from its first day to `as_of`; True when it was reopened now.

    Seen, put aside and closed hold only while the finding is no worse than it was at the time.
    """
    flag.seen_on = flag.put_aside_until = flag.closed_on = None
    reopened_now = False
    for event in events:
        if not flag.opened_on <= event.on <= as_of:
            continue
        has_become_worse = is_worse(flag.urgency, event.urgency)
        if event.what == FlagEvent.What.CLOSED:
            flag.closed_on = None if has_become_worse else event.on
            reopened_now = has_become_worse
        elif event.what == FlagEvent.What.REOPENED:
            flag.closed_on, reopened_now = None, False
        elif has_become_worse:
            continue
        elif event.what == FlagEvent.What.SEEN:
            flag.seen_on = event.on
        elif event.what == FlagEvent.What.PUT_ASIDE:
            flag.put_aside_until = event.until
    return reopened_now
