"""What there is to ask on the call: pain that is open, an exercise that stays short, weeks without a session, promises
of which nothing is told. Questions, never advice; they stand on the coach's paper alone.
"""

from __future__ import annotations

from collections.abc import Iterable

from coaching.check_ins.content import Found, PromiseLine
from coaching.check_ins.facts import PackFacts
from coaching.check_ins.words import in_a_row
from coaching.monitoring.finding_words import UNSPECIFIED_REGION
from coaching.monitoring.models import Flag, Kind
from coaching.monitoring.plain_words import day_text


def build_questions(
    facts: PackFacts, standing: Iterable[Found], since: Iterable[Flag], agreed: Iterable[PromiseLine]
) -> tuple[str, ...]:
    """`standing` are findings that are neither over nor closed; `since` those that came after the period: a call is
    held today, and whoever hurts since yesterday is asked.
    """
    return (
        *(_of_finding(one) for one in since if one.kind in _ASKED),
        *(_of_finding(one) for one in standing if one.kind in _ASKED),
        *_weeks_without(facts),
        *(_of_promise(one) for one in agreed if one.kept is None and (not one.due_on or one.due_on <= facts.as_of)),
    )


def _of_finding(found: Found | Flag) -> str:
    return _ASKED[found.kind].format(subject=_subject(found), since=day_text(found.opened_on))


def _subject(found: Found | Flag) -> str:
    if found.kind == Kind.PAIN:
        return "Pain" if found.subject == UNSPECIFIED_REGION else f"Pain, {found.subject}"
    return found.subject[:1].upper() + found.subject[1:]


# By kind; `{subject}` begins the sentence.
_ASKED = {
    Kind.PAIN.value: "{subject}, open since {since}: how is it now, and has anybody looked at it?",
    Kind.STALL.value: "{subject}, short of what was asked since {since}: what is in the way?",
    Kind.STEP_NOT_TAKEN.value: (
        "{subject}, the new load not lifted since {since}: was it not there, too hard, not dared, or forgotten?"
    ),
    Kind.SKIPS_IT.value: "{subject}, left out since {since}: is it the kit, the time, the liking, or does it hurt?",
}


def _weeks_without(facts: PackFacts) -> list[str]:
    mondays = facts.weeks_without_a_session()
    if not mondays:
        return []
    weeks = "week" if len(mondays) == 1 else "weeks"
    days = in_a_row([f"{one.day} {one:%b}" for one in mondays])
    return [f"Nothing logged in the {weeks} of {days}: how was that time?"]


def _of_promise(promise: PromiseLine) -> str:
    due = f", due {day_text(promise.due_on)}" if promise.due_on else ""
    return f"Agreed on {day_text(promise.made_on)}{due}: “{promise.text.rstrip('.')}”. How did it go?"
