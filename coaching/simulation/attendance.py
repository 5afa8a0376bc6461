"""Whether and when a client does a planned session, and when the coach has the log of it."""

from __future__ import annotations

import random
from datetime import date

from coaching.simulation.days import SAT, SUN, days_later, sunday_of
from coaching.simulation.person import Person
from coaching.simulation.plan import Planned
from coaching.simulation.script import Script

FIRST_WEEKS_DAYS = 28
SHARE_OF_DAYS_LATE = 0.1
# How often two misses running are allowed to somebody who is no newcomer.
SHARE_OF_TWO_MISSES = 0.2


def attends(person: Person, script: Script, day: date, missed_running: int, dice: random.Random) -> bool:
    """By chance never three misses running, nor two in the first weeks: that would be a finding."""
    if script.is_away(day) or person.is_paused(day):
        return False
    in_first_weeks = (day - person.first_block_on).days < FIRST_WEEKS_DAYS
    most_missed = 2 if dice.random() < SHARE_OF_TWO_MISSES and not in_first_weeks else 1
    return script.is_tidy(day) or missed_running >= most_missed or dice.random() < person.habits.attendance


def performed_on(person: Person, script: Script, day: date, taken: set[date], dice: random.Random) -> date:
    """The day suggested, the day after, or - for the last session of a week - early in the week that follows."""
    if script.is_tidy(day):
        return day
    if days_later(day, 1) not in taken and day.weekday() < SAT and dice.random() < SHARE_OF_DAYS_LATE:
        return days_later(day, 1)
    is_last_of_week = not any(days_later(day, ahead) in taken for ahead in range(1, SUN - day.weekday() + 1))
    if is_last_of_week and person.habits.names_session and dice.random() < person.habits.later_share:
        next_week = (days_later(sunday_of(day), ahead) for ahead in range(1, 4))
        return next((free for free in next_week if free not in taken), day)
    return day


def received_on(person: Person, planned: Planned, performed: date) -> date:
    """The day by whose morning the coach has the log."""
    if person.sends == "weekly":
        return days_later(sunday_of(performed), 1)
    if person.sends == "block":
        block_ends = days_later(planned.block_starts_on, 7 * person.shape.weeks)
        return max(block_ends, days_later(performed, 1))
    return performed if person.habits.is_early else days_later(performed, 1)
