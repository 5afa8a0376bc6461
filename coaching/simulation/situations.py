"""Situations about lifting: what to lay down so that a finding holds on the day `at`, and clears some time after it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from coaching.simulation.days import Span, days_later, dice_for
from coaching.simulation.person import Lane, Person
from coaching.simulation.script import Mood, Script, Step, Truth

Situation = Callable[[Person, Script, date], None]
REASONS = {"reps_short": Mood.REPS_SHORT, "sets_short": Mood.SETS_SHORT, "load_below": Mood.LOAD_BELOW}


def keep_tidy(script: Script, at: date, before: int = 42, after: int = 21) -> None:
    """Nothing falls by chance around a situation, so that it is the only one."""
    script.tidy.append(Span(days_later(at, -before), days_later(at, after)))


def some_lane(person: Person, at: date, what: str) -> Lane:
    """One whose exercise is not asked for on the day itself, so that it does not hang on the hour of a log."""
    lanes = [lane for lane in person.plain_lanes() if person.training_weekdays[lane.session] != at.weekday()]
    return dice_for(person.seed, person.number, what, at).choice(lanes)


def stay_away_on(script: Script, day: date) -> None:
    script.away.append(Span(day, day))


def stall(reason: str, count: int) -> Situation:
    """Short in the last `count` exposures on one load, for one reason."""

    def lay_down(person: Person, script: Script, at: date) -> None:
        lane = some_lane(person, at, "stall")
        days = person.last_lane_days(lane, at, count)
        _hold_the_load(person, script, lane, days[-1])
        script.moods.update({(lane, day): REASONS[reason] for day in days})
        keep_tidy(script, at)
        ends = days_later(person.next_lane_days(lane, at, 1)[0], -1)
        act_from = days[2] if count > 2 else None
        watch_until = days_later(act_from, -1) if act_from else ends
        what = f"{count} times short on one load, {reason}"
        script.truths.append(Truth(f"stall_{count}", what, "stall", "watch", days[1], watch_until, lane=lane))
        if act_from:
            script.truths.append(Truth(f"stall_{count}", what, "stall", "act", act_from, ends, lane=lane))

    return lay_down


def _hold_the_load(person: Person, script: Script, lane: Lane, day: date) -> None:
    """The block of `day` keeps the load of the block before, which began with a load step."""
    block = person.block_start_before(day)
    before = person.block_start_before(days_later(block, -1))
    script.steps.setdefault((lane, block), Step.BRIDGE)
    script.steps.setdefault((lane, before), Step.STEP)


def second_round(reason: str) -> Situation:
    """Short at a stage, the round is set again at the same load, and short at that stage again."""

    def lay_down(person: Person, script: Script, at: date) -> None:
        lane = some_lane(person, at, "second round")
        day = person.last_lane_days(lane, at, 1)[0]
        block = person.block_start_before(day)
        before = person.block_start_before(days_later(block, -1))
        script.steps[lane, block] = Step.REPEAT
        script.steps.setdefault((lane, before), Step.STEP)
        for short_on in (day, days_later(day, -(block - before).days)):
            script.moods[lane, short_on] = REASONS[reason]
        keep_tidy(script, at, before=56)
        ends = days_later(person.next_lane_days(lane, at, 1)[0], -1)
        what = f"short at the same stage in a second round, {reason}"
        script.truths.append(Truth("second_round", what, "stall", "act", day, ends, lane=lane))

    return lay_down


def step_not_taken(person: Person, script: Script, at: date) -> None:
    """The load went up with the block, and the client stays with the old one."""
    lane = some_lane(person, at, "step")
    block = person.block_start_before(days_later(at, -13))
    script.steps[lane, block] = Step.STEP
    days = person.lane_days(lane, block, days_later(at, -1))
    script.moods.update({(lane, day): Mood.OLD_LOAD for day in days})
    keep_tidy(script, at)
    ends = days_later(person.next_lane_days(lane, at, 1)[0], -1)
    what = "stays with the load from before the step"
    script.truths.append(Truth("step_not_taken", what, "step_not_taken", "act", days[1], ends, lane=lane))


def skips_it(person: Person, script: Script, at: date) -> None:
    """One exercise is left out three times running."""
    lane = some_lane(person, at, "skips")
    days = person.last_lane_days(lane, at, 3)
    # No other exercise takes its place meanwhile.
    script.steps.setdefault((lane, person.block_start_before(days[-1])), Step.BRIDGE)
    script.moods.update({(lane, day): Mood.SKIPPED for day in days})
    keep_tidy(script, at)
    ends = days_later(person.next_lane_days(lane, at, 2)[1], -1)
    what = "leaves one exercise out three times running"
    script.truths.append(Truth("skips_it", what, "skips_it", "watch", days[2], ends, lane=lane))


def no_step(person: Person, script: Script, at: date) -> None:
    """The same week, copied on for two blocks."""
    _lay_down_no_step(person, script, at, some_lane(person, at, "no step"))


def _lay_down_no_step(person: Person, script: Script, at: date, lane: Lane) -> None:
    block = person.block_start_before(days_later(at, -1))
    before = person.block_start_before(days_later(block, -1))
    script.steps[lane, block] = script.steps[lane, before] = Step.FLAT
    keep_tidy(script, at, before=70, after=30)
    third = person.lane_days(lane, before, days_later(at, -1))[2]
    next_block = days_later(block, 7 * person.shape.weeks)
    ends = days_later(person.next_lane_days(lane, next_block, 1)[0], -1)
    what = "asked for the same sets, reps, rest and load week after week"
    script.truths.append(Truth("no_step", what, "no_step", "watch", third, ends, lane=lane))


def too_easy(person: Person, script: Script, at: date) -> None:
    """Two or more reps over in the last set, twice."""
    _lay_down_too_easy(person, script, at, some_lane(person, at, "easy"))


def _lay_down_too_easy(person: Person, script: Script, at: date, lane: Lane) -> None:
    days = person.last_lane_days(lane, at, 2)
    _hold_the_load(person, script, lane, days[-1])
    script.moods.update({(lane, day): Mood.EASY for day in days})
    keep_tidy(script, at)
    ends = days_later(person.next_lane_days(lane, at, 1)[0], -1)
    what = "two or more reps over in the last set, twice running"
    script.truths.append(Truth("too_easy", what, "too_easy", "good", days[1], ends, lane=lane))


def no_step_and_too_easy(person: Person, script: Script, at: date) -> None:
    """A plan that stands still has become too easy."""
    lane = some_lane(person, at, "no step")
    _lay_down_no_step(person, script, at, lane)
    _lay_down_too_easy(person, script, at, lane)


def ready(person: Person, script: Script, at: date) -> None:
    """The last two stages of a round met: the lane that was last in its round's last week."""
    last_day = person.last_training_days(at, 1)[0]
    is_last_week = person.week_of_block(last_day) == person.shape.weeks
    # Early in a new block, what comes late in the week is still at the end of the old round.
    session = person.training_weekdays.index(last_day.weekday()) if is_last_week else len(person.training_weekdays) - 1
    lane = dice_for(person.seed, person.number, "ready", at).choice(
        [lane for lane in person.plain_lanes() if lane.session == session] or person.plain_lanes()
    )
    day = person.last_lane_days(lane, at, 1)[0]
    keep_tidy(script, at)
    following = person.next_lane_days(lane, at, 1)
    ends = days_later(following[0], -1) if following else None
    what = "met the last two stages of the round"
    script.truths.append(Truth("ready", what, "ready", "good", day, ends, lane=lane))


def plan_runs_out(person: Person, script: Script, at: date) -> None:
    """The last week with a plan is nearly over, or over, and the next block is not there."""
    block = person.block_start_before(days_later(at, -1))
    thursday = days_later(block, 7 * (person.shape.weeks - 1) + 3)
    following = next(start for start in person.block_starts(days_later(at, 60)) if start > block)
    written_on = days_later(at, 4)
    script.drafted_on[following] = written_on
    keep_tidy(script, at)
    what = "no block follows the one that ends"
    until = days_later(written_on, -1)
    script.truths.append(Truth("plan_runs_out", what, "plan_runs_out", "act", thursday, until))
