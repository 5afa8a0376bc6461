"""How long sessions and rests are against what was asked, in the last four weeks and the four before; a remark on
the story, never a finding."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from statistics import fmean, median

from coaching.monitoring.models import ExposureFact, LogFact
from coaching.monitoring.plain_words import counted
from roster.blocks.models import PlannedExercise
from roster.logs.models import SetLog

WINDOW = timedelta(weeks=4)
# A mean of fewer sets tells nothing.
FEWEST_SETS = 6
# Nobody rests to the second.
SAME_REST_S = 5

# Recorded and asked rest of one set.
RestPair = tuple[int, int]


def minutes_remark(logs: Iterable[LogFact], day: date, minutes_there: int | None) -> str:
    """Such as "Sessions take 27 min (the median of 11 in the last 4 weeks; 30 min are there)."."""
    since = day - WINDOW
    known = [log.session_log.minutes for log in logs if log.performed_on > since and log.session_log.minutes]
    if not known:
        return ""
    there = f"; {minutes_there} min are there" if minutes_there else ""
    return f"Sessions take {median(known):.0f} min (the median of {len(known)} in the last 4 weeks{there})."


def rest_remark(logs: Sequence[LogFact], exposures: Iterable[ExposureFact], day: date) -> str:
    """Such as "Rests run 12 s over what was asked (77 s for 65 s, 96 sets in the last 4 weeks); ..."."""
    lately = [log for log in logs if log.performed_on > day - 2 * WINDOW]
    pairs = _rests({log.session_log_id: log.performed_on > day - WINDOW for log in lately}, exposures)
    now, before = pairs[True], pairs[False]
    if len(now) < FEWEST_SETS:
        return ""
    recorded, asked = (fmean(column) for column in zip(*now, strict=True))
    evidence = f"{recorded:.0f} s for {asked:.0f} s, {counted(len(now), 'set')} in the last 4 weeks"
    drift = f"; in the 4 weeks before {_difference(before)}" if len(before) >= FEWEST_SETS else ""
    return f"Rests run {_difference(now)} ({evidence}){drift}."


def _rests(recent: Mapping[int, bool], exposures: Iterable[ExposureFact]) -> dict[bool, list[RestPair]]:
    """Pairs of recent logs and of those before; sets of exercises that nobody planned have nothing to compare with."""
    planned = {
        (one.session_log_id, one.exercise_id): one.planned_exercise_id
        for one in exposures
        if one.session_log_id in recent
    }
    asked = dict(PlannedExercise.objects.filter(pk__in=planned.values()).values_list("pk", "rest_s"))
    rows = SetLog.objects.filter(session_log__in=list(recent), rest_s__isnull=False, is_warm_up=False)
    pairs: dict[bool, list[RestPair]] = {True: [], False: []}
    for log_id, exercise_id, rest_s in rows.values_list("session_log_id", "exercise_id", "rest_s"):
        asked_s = asked.get(planned.get((log_id, exercise_id)))
        if asked_s is not None:
            pairs[recent[log_id]].append((rest_s, asked_s))
    return pairs


def _difference(pairs: Iterable[RestPair]) -> str:
    over = fmean(recorded - asked for recorded, asked in pairs)
    if abs(over) < SAME_REST_S:
        return "as asked"
    return f"{over:.0f} s over what was asked" if over > 0 else f"{-over:.0f} s under what was asked"
