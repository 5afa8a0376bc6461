"""Findings on the present landing of an exercise that is live: stall, step_not_taken, no_step, too_easy, ready."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction

from tests.plain_twin.client_day import ClientDay
from tests.plain_twin.exposures import target_of
from tests.plain_twin.finding import Finding
from tests.plain_twin.iso_weeks import week_name
from tests.plain_twin.landings import Landing, round_of, stages_of
from tests.plain_twin.statuses import turnout


def find_on_landing(at: ClientDay, exercise: str, is_muted: bool) -> list[Finding]:
    """`is_muted`: pain in a region of the exercise holds back stall, ready and too_easy."""
    landings = at.landings_of(exercise)
    if not at.is_live(exercise):
        return []
    found = []
    if is_step_not_taken(landings):
        found.append(Finding("step_not_taken", exercise, "act"))
    elif not is_muted and landings and (urgency := stall_urgency(landings[-1])):
        found.append(Finding("stall", exercise, urgency))
    if landings and is_no_step(at, landings[-1]):
        found.append(Finding("no_step", exercise, "watch"))
    if not is_muted and landings and is_too_easy(landings[-1]):
        found.append(Finding("too_easy", exercise, "good"))
    if not is_muted and is_ready(at, exercise):
        found.append(Finding("ready", exercise, "good"))
    return found


def stall_urgency(landing: Landing) -> str | None:
    """The last two short: watch; the last three, or the latest and the nearest earlier of its stage: act."""
    short = [not exposure.met for exposure in landing]
    if len(short) >= 3 and all(short[-3:]):
        return "act"
    earlier_of_stage = [exposure for exposure in landing[:-1] if exposure.row.stage == landing[-1].row.stage]
    if short[-1] and earlier_of_stage and not earlier_of_stage[-1].met:
        return "act"
    return "watch" if len(short) >= 2 and all(short[-2:]) else None


def is_step_not_taken(landings: list[Landing]) -> bool:
    """The load went up, and in the last two exposures no set was above the old load + 1 %."""
    if len(landings) < 2 or len(landings[-1]) < 2:
        return False
    old, new = landings[-2][-1].row.load.grams, landings[-1][-1].row.load.grams
    if old is None or new is None or new <= old:
        return False
    sets = [logged for exposure in landings[-1][-2:] for logged in exposure.sets]
    return not any(logged.load.grams is not None and 100 * logged.load.grams > 101 * old for logged in sets)


def is_no_step(at: ClientDay, landing: Landing) -> bool:
    """The latest's sets, reps and rest in three or more weeks, at a turnout of 75 % over eight weeks."""
    weeks = {week_name(exposure.performed_on) for exposure in landing if exposure.row.stage == landing[-1].row.stage}
    first_day = at.day - timedelta(days=55)
    recent = turnout([state for state in at.states if first_day <= state.session.suggested_on <= at.day])
    return len(weeks) >= 3 and recent is not None and recent >= Fraction(75, 100)


def is_too_easy(landing: Landing) -> bool:
    """The two-for-two rule (Baechle and Earle): twice running, two or more over in the last set."""
    last_two = landing[-2:]
    return len(last_two) == 2 and all(
        exposure.met and exposure.sets[-1].reps >= target_of(exposure.row, len(exposure.sets) - 1) + 2
        for exposure in last_two
    )


def is_ready(at: ClientDay, exercise: str) -> bool:
    """The latest exposure is of its round's last stage; all of the last two stages met, and without pain."""
    of_exercise = at.exposures_of(exercise)
    run = round_of(of_exercise[-1].row)
    stages = stages_of(run)
    if not stages or of_exercise[-1].row.stage != stages[-1]:
        return False
    last_two = [exposure for exposure in of_exercise if exposure.row in run and exposure.row.stage in stages[-2:]]
    return all(exposure.met and (exposure.log.pain is None or exposure.log.pain < 1) for exposure in last_two)
