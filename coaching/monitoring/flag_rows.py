"""Findings as rows of flags, with what coaches have done about each, as at a day."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from datetime import date

from analytics.assessment import Assessment
from analytics.findings_schema import EXERCISE_KINDS, Turnout
from analytics.findings_schema import Kind as FindingKind
from analytics.training_weeks import to_date
from coaching.databases.compiled import CompiledRead, all_columns
from coaching.monitoring.context import build_context
from coaching.monitoring.finding_ids import telling_subject
from coaching.monitoring.finding_words import KINDS, URGENCIES, subject_of, words_of
from coaching.monitoring.models import Flag, FlagEvent, Kind, Urgency

_SHORTEN_TO = 400
_RANK = {urgency: rank for rank, urgency in enumerate(Urgency.values)}
_SILENT = Turnout.SILENT.name.lower()
_EVENTS = CompiledRead(
    lambda ids: FlagEvent.objects.filter(client_id__in=ids).order_by("on", "pk"), all_columns(FlagEvent)
)

# Client, kind and exercise: what stays the same over the days of an episode.
EpisodeKey = tuple[int, str, str]


def episode_key(row: Flag | FlagEvent) -> EpisodeKey:
    return row.client_id, row.kind, telling_subject(row.kind, row.subject)


def event_of(flag: Flag, what: str, on: date) -> FlagEvent:
    """Something that happens by itself to a finding as it is; not saved."""
    return FlagEvent(
        client_id=flag.client_id, kind=flag.kind, subject=flag.subject, what=what, on=on, urgency=flag.urgency
    )


def has_become_worse(flag: Flag, since: FlagEvent) -> bool:
    """Whether a finding is more urgent than at an event of its episode; silence is worse than any other turnout."""
    rank = _RANK[flag.urgency] - _RANK[since.urgency]
    return rank < 0 or (rank == 0 and flag.kind == Kind.TURNOUT and flag.subject == _SILENT != since.subject)


def build_flags(assessment: Assessment, regions: dict[int, str]) -> list[Flag]:
    """The findings of an assessment as unsaved flags that hold; what coaches did about them is not yet applied."""
    context = build_context(assessment, regions)
    client_ids = assessment.history.record.clients["client_id"].tolist()
    flags = []
    for finding in assessment.findings.records():
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
    for event in _EVENTS.objects(client_ids):
        found[episode_key(event)].append(event)
    return found


def apply_acts(flag: Flag, events: list[FlagEvent], as_of: date) -> bool:
    """Set where coaches left an episode, by their acts from its first day to `as_of`; True when it was reopened now.

    Seen, put aside and closed hold only while the finding is no worse than it was at the time. Pain that is found again
    after its close came in later: it is never the one that was closed.
    """
    flag.seen_on = flag.put_aside_until = flag.closed_on = None
    reopened_now = False
    for event in events:
        if not flag.opened_on <= event.on <= as_of:
            continue
        is_worse = has_become_worse(flag, event)
        if event.what == FlagEvent.What.CLOSED:
            reopened_now = is_worse or flag.kind == Kind.PAIN
            flag.seen_on = flag.put_aside_until = None
            flag.closed_on = None if reopened_now else event.on
        elif event.what == FlagEvent.What.REOPENED:
            flag.closed_on, reopened_now = None, False
        elif is_worse:
            continue
        elif event.what == FlagEvent.What.SEEN:
            flag.seen_on = event.on
        elif event.what == FlagEvent.What.PUT_ASIDE:
            flag.put_aside_until = event.until
    return reopened_now
