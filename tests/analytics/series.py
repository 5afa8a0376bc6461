"""Sample series that every calculation is tried on: how somebody's last weeks may have gone, each of one client."""

from __future__ import annotations

from collections.abc import Callable

from analytics.frame_schema import Changed, Record
from tests.analytics.frames import (
    KNEE,
    PRESS,
    SQUAT,
    Log,
    Session,
    asked,
    client,
    log,
    planned_days,
    record,
    session,
)

TODAY = "2026-04-15"
START = "2026-01-05"
WEEKS = 15
# One variable changes a week; after the fourth the load steps up.
STAGES = [
    ("3x8", 75, Changed.NONE), ("4x8", 75, Changed.SETS), ("4x10", 75, Changed.REPS), ("4x10", 50, Changed.REST),
]


def _plan() -> list[Session]:
    """Squat and press once a week, in rounds of four weeks, two kilograms more each round."""
    return [
        session(number, day, *_asked(number - 1), week=number)
        for number, day in enumerate(planned_days(WEEKS, START), start=1)
    ]


def _asked(week: int) -> list:
    work, rest_s, changed = STAGES[week % 4]
    load = 20 + 2 * (week // 4)
    return [
        asked(f"{work}@{load}", SQUAT, rest_s=rest_s, changed=changed),
        asked(f"{work}@{load / 2:g}", PRESS, rest_s=rest_s, changed=changed, implements=2),
    ]


def _done(week: int, short_by: int = 0, **about: object) -> Log:
    """As asked; the last set of squats may be short by some reps."""
    sets: dict[int, str] = {}
    for work in _asked(week):
        reps = [*work.targets[:-1], work.targets[-1] - (short_by if work.exercise == SQUAT else 0)]
        rest_s = work.cells["rest_s"]
        sets[work.exercise] = " ".join(f"{count}@{work.load_code / 1000:g}/{rest_s}" for count in reps)
    day = planned_days(WEEKS, START)[week]
    about = {"minutes": 30.0, "effort": 6.0, "pain": 0.0, **about}
    return log(day, sets, of=week + 1, **about)  # type: ignore[arg-type]


def _record(logs: list[Log], **about: object) -> Record:
    about.setdefault("clients", [client(minutes=35)])
    return record(_plan(), logs, on=TODAY, exercises=[(SQUAT, 1, 1), (PRESS, 2, 1)], ties=[(SQUAT, KNEE)], **about)  # type: ignore[arg-type]


def steady_progress() -> Record:
    return _record([_done(week) for week in range(WEEKS)])


def three_week_stall() -> Record:
    return _record([_done(week, short_by=2 if week >= WEEKS - 3 else 0) for week in range(WEEKS)])


def gone_quiet() -> Record:
    return _record([_done(week) for week in range(WEEKS - 4)])


def returning_after_illness() -> Record:
    """Four weeks off; short in the first week back, and as asked from then on."""
    weeks = [week for week in range(WEEKS) if not 7 <= week <= 10]
    logs = [_done(week, short_by=2 if week == 11 else 0) for week in weeks]
    return _record(logs, pauses=[("2026-02-20", "2026-03-22")])


def single_session() -> Record:
    return _record([_done(WEEKS - 1, pain=4.0, region=KNEE)])


def empty_log() -> Record:
    return _record([])


def nobody() -> Record:
    return record(on=TODAY, clients=[])


def nothing_planned() -> Record:
    return record(logs=[log(TODAY), log(TODAY, "")], on=TODAY)


SERIES: dict[str, Callable[[], Record]] = {
    made.__name__: made
    for made in (
        steady_progress, three_week_stall, gone_quiet, returning_after_illness, single_session, empty_log, nobody,
        nothing_planned,
    )
}
