"""What a client tells beside the sets: minutes, effort, pain, and a remark."""

from __future__ import annotations

import random
from datetime import date

from coaching.simulation import remarks
from coaching.simulation.done import Memory
from coaching.simulation.lifting import minutes_planned
from coaching.simulation.person import Person
from coaching.simulation.plan import Planned
from coaching.simulation.script import Mood, Script

# Of the minutes a client has: what people take at most when nothing is wrong, and what is far too long.
MOST_MINUTES = 1.15
FAR_TOO_LONG = 1.45
SHARE_OF_A_CUT_SESSION = 0.7


def minutes_of(person: Person, script: Script, planned: Planned, dice: random.Random, *, is_cut: bool) -> int | None:
    if planned.day in script.overlong and person.minutes:
        return round(person.minutes * FAR_TOO_LONG)
    if not person.habits.gives_minutes:
        return None
    minutes = minutes_planned(planned.asks) * person.habits.pace * dice.uniform(0.92, 1.08)
    minutes *= SHARE_OF_A_CUT_SESSION if is_cut else 1
    return round(min(minutes, person.minutes * MOST_MINUTES) if person.minutes else minutes)


def effort_of(person: Person, planned: Planned, moods: list[Mood], dice: random.Random) -> float | None:
    """From 0 to 10 in halves: more sets, more reps and less rest feel harder, and falling short hardest."""
    if not person.habits.gives_effort:
        return None
    hard = sum(mood in (Mood.REPS_SHORT, Mood.SETS_SHORT, Mood.LOAD_BELOW) for mood in moods)
    easy = sum(mood in (Mood.EASY, Mood.OLD_LOAD) for mood in moods)
    effort = 5.5 + 0.5 * planned.week + hard - easy + dice.gauss(0, 0.5)
    return min(10.0, max(2.0, round(effort * 2) / 2))


def pain_of(person: Person, script: Script, day: date, memory: Memory, dice: random.Random) -> int | None:
    """What the script says; else nothing, 0, or once in a while a 1 that is followed by a 0."""
    if day in script.pain:
        return script.pain[day]
    if not person.habits.gives_pain:
        return None
    memory.had_pain = not memory.had_pain and not script.is_tidy(day) and dice.random() < 0.02
    return int(memory.had_pain)


def remark_of(
    person: Person, script: Script, day: date, moods: list[Mood], dice: random.Random, *, is_cut: bool
) -> str:
    if day in script.pain:
        return _remark_on_pain(script.pain[day], script.pain_region[day], dice)
    if is_cut or day in script.overlong:
        return dice.choice(remarks.CUT if is_cut else remarks.OVERLONG)
    special = [mood for mood in moods if mood is not Mood.MET]
    if special and dice.random() < 0.6:
        return dice.choice(remarks.SHORT[special[0].value])
    if _is_back_again(person, script, day):
        return dice.choice(remarks.BACK_AGAIN)
    return dice.choice(remarks.PLAIN) if dice.random() < person.habits.remark_share else ""


def _is_back_again(person: Person, script: Script, day: date) -> bool:
    """The first session after a week or more away."""
    spans = [span for span in (*script.away, *person.pauses) if (span.last - span.first).days >= 6]
    return any(0 < (day - span.last).days <= 2 for span in spans)


def _remark_on_pain(level: int, region: str, dice: random.Random) -> str:
    words = remarks.PAIN_HIGH if level > 5 else remarks.PAIN_SOME if level > 2 else remarks.PAIN_LESS
    remark = dice.choice(words).format(region=region)
    return remark[:1].upper() + remark[1:]
