"""Situations about coming, staying and hurting: what to lay down so that a finding holds on the day `at`."""

from __future__ import annotations

from datetime import date

from coaching.simulation.days import Span, days_later, dice_for
from coaching.simulation.person import Person
from coaching.simulation.script import Script, Truth
from coaching.simulation.situations import Situation, keep_tidy, stay_away_on

# A session is overdue two days after the day suggested for it.
OVERDUE_DAYS = 2
QUIET_DAYS = 14
SILENT_DAYS = 28
NOT_STARTED_DAYS = 5
MOST_HARMLESS_PAIN = 2


def pain(urgency: str, levels: tuple[int, ...], levels_after: tuple[int, ...]) -> Situation:
    """Pain in one region in the last sessions before `at`, and how it goes on."""

    def lay_down(person: Person, script: Script, at: date) -> None:
        days = person.last_training_days(at, len(levels))
        following = person.next_training_days(days_later(at, 1), len(levels_after))
        region = _region(person, at)
        script.pain.update(zip([*days, *following], [*levels, *levels_after], strict=False))
        script.pain_region.update(dict.fromkeys([*days, *following], region))
        script.cut.update(day for day, level in zip(days, levels, strict=True) if level > 5)
        keep_tidy(script, at)
        stay_away_on(script, at)
        ends = [day for day, level in zip(following, levels_after, strict=False) if level <= MOST_HARMLESS_PAIN]
        what = f"{region} hurts: {', '.join(str(level) for level in levels)}"
        name = f"pain_{urgency}"
        script.truths.append(Truth(name, what, "pain", urgency, days[-1], days_later(ends[0], -1), region))
        if urgency == "act":
            # The first of two reports is looked at before the second makes it more.
            script.truths.append(Truth(name, what, "pain", "watch", days[-2], days_later(days[-1], -1), region))

    return lay_down


def _region(person: Person, at: date) -> str:
    """One that the last session's exercises load."""
    session = person.training_weekdays.index(person.last_training_days(at, 1)[0].weekday())
    regions = [
        region for lane, movement in person.lanes.items() if lane.session == session for region in movement.regions
    ]
    return dice_for(person.seed, person.number, "pain", at).choice(regions)


def gone(days_away: int, days_until_back: int) -> Situation:
    """No session for `days_away` days and a few more; comes back some days after `at`."""

    def lay_down(person: Person, script: Script, at: date) -> None:
        first_day_away = days_later(at, 1 - days_away)
        _stay_away(person, script, at, Span(first_day_away, days_later(at, days_until_back - 1)))

    return lay_down


def week_gone(person: Person, script: Script, at: date) -> None:
    """The last three due sessions missed, after a long run of good weeks."""
    due = person.last_training_days(days_later(at, 1 - OVERDUE_DAYS), 3)
    _stay_away(person, script, at, Span(due[0], days_later(at, 8)))


def _stay_away(person: Person, script: Script, at: date, span: Span) -> None:
    script.away.append(span)
    keep_tidy(script, at, before=70)
    heard_on = person.last_training_days(span.first, 1)[0]
    missed = person.training_days(span.first, span.last)
    back_on = person.next_training_days(days_later(span.last, 1), 1)[0]
    starts = {
        "week_gone": days_later(missed[2], OVERDUE_DAYS),
        "quiet": days_later(heard_on, QUIET_DAYS),
        "silent": days_later(heard_on, SILENT_DAYS),
    }
    _tell_of_turnout(script, starts, back_on)


def _tell_of_turnout(script: Script, starts: dict[str, date], back_on: date) -> None:
    """Each subject holds until a graver one takes its place, and all end when the client is back."""
    subjects = list(starts)
    for subject, graver in zip(subjects, [*subjects[1:], None], strict=True):
        ends = min(back_on, starts[graver]) if graver else back_on
        if starts[subject] < ends:
            what = f"no session since {days_later(starts['quiet'], -QUIET_DAYS)}"
            last = days_later(ends, -1)
            script.truths.append(Truth(subject, what, "turnout", "act", starts[subject], last, subject))


def early(person: Person, script: Script, at: date) -> None:
    """The last two due sessions missed within four weeks of the first."""
    due = person.last_training_days(days_later(at, 1 - OVERDUE_DAYS), 2)
    span = Span(due[0], days_later(at, 2))
    script.away.append(span)
    keep_tidy(script, at)
    third = person.next_training_days(days_later(due[1], 1), 1)[0]
    ends = days_later(third, OVERDUE_DAYS - 1) if span.holds(third) else days_later(third, -1)
    what = "misses two sessions running in the first weeks"
    starts = days_later(due[1], OVERDUE_DAYS)
    script.truths.append(Truth("early", what, "turnout", "watch", starts, ends, "early"))


def not_started(person: Person, script: Script, at: date) -> None:
    """A plan is there, and no log has come."""
    script.away.append(Span(person.first_block_on, days_later(at, 10)))
    keep_tidy(script, at)
    first = person.next_training_days(person.first_block_on, 1)[0]
    back_on = person.next_training_days(days_later(at, 11), 1)[0]
    starts, ends = days_later(first, NOT_STARTED_DAYS), days_later(back_on, -1)
    what = "has a plan and has sent nothing"
    script.truths.append(Truth("not_started", what, "turnout", "act", starts, ends, "not_started"))


def cut_short(person: Person, script: Script, at: date) -> None:
    """Three of the last four sessions end before their last exercise."""
    days = person.last_training_days(at, 4)
    script.cut.update((days[0], days[2], days[3]))
    keep_tidy(script, at)
    stay_away_on(script, at)
    ends = days_later(person.next_training_days(days_later(at, 1), 1)[0], -1)
    what = "three of four sessions end early"
    script.truths.append(Truth("cut_short", what, "cut_short", "watch", days[3], ends))


def overlong(person: Person, script: Script, at: date) -> None:
    """Three sessions running take far more minutes than the client has."""
    days = person.last_training_days(at, 3)
    script.overlong.update(days)
    keep_tidy(script, at)
    stay_away_on(script, at)
    ends = days_later(person.next_training_days(days_later(at, 1), 2)[1], -1)
    what = "three sessions take far longer than the minutes there are"
    script.truths.append(Truth("overlong", what, "cut_short", "watch", days[2], ends))
