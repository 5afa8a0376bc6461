"""Records from a few readable rows: one client, squats, days as they are written.

Asked is written "3x8@20" (sets x reps at kg), "3x8" (body weight) or "12-10-8@20" (a target for each set). Done is
written "8@20 8@20 7@20", a set each: "8" is body weight, "8@20*" a warm-up, "8@20/90" had 90 s of rest.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from analytics.assessment import Assessment, assess
from analytics.flag_thresholds import Thresholds
from analytics.frame_schema import (
    ABSENT,
    BODY_WEIGHT,
    COLUMNS,
    Changed,
    Measure,
    Record,
    RepsLeft,
    Sends,
    build_frame,
)
from analytics.training_weeks import to_day

NAN = float("nan")
CLIENT = 1
SQUAT, PRESS, ROW = 11, 12, 13
KNEE, SHOULDER = 0, 1
# A code of a band, beside that of body weight.
BAND = BODY_WEIGHT - 1

Row = dict[str, object]


@dataclass(frozen=True)
class Asked:
    exercise: int
    targets: list[int]
    # Whether every set has a target of its own.
    is_ladder: bool
    load_code: int
    cells: Row


@dataclass(frozen=True)
class Session:
    number: int
    day: int
    asked: Sequence[Asked]
    client: int
    block: int
    week: int
    block_end: int | None


@dataclass(frozen=True)
class Log:
    day: int
    # The written sets of each exercise done.
    sets: Mapping[int, str]
    cells: Row
    # The exercise asked for, of one done in its place.
    swapped: Mapping[int, int] = field(default_factory=dict)
    pain: float | None = None
    region: int = ABSENT
    is_alarm: bool = False
    last_reps_left: RepsLeft = RepsLeft.UNKNOWN
    body_g: float = NAN
    measure: Measure = Measure.REPS


def day_of(text: str) -> int:
    return to_day(date.fromisoformat(text))


def load_code(written: str) -> int:
    """Grams of "20" kg; nothing is body weight, "band" a band."""
    if not written:
        return BODY_WEIGHT
    return BAND if written == "band" else round(float(written) * 1000)


def asked(
    text: str = "3x8@20",
    exercise: int = SQUAT,
    *,
    rest_s: float = 75,
    changed: Changed = Changed.NONE,
    implements: int = 1,
    sides: int = 1,
    measure: Measure = Measure.REPS,
    tempo_s: float = NAN,
) -> Asked:
    """Three sets of eight squats at 20 kg with 75 s of rest."""
    work, _, load = text.partition("@")
    targets = _targets(work)
    cells: Row = {"rest_s": rest_s, "changed": changed, "implements": implements, "sides": sides}
    cells |= {"measure": measure, "tempo_s": tempo_s}
    return Asked(exercise, targets, "-" in work, load_code(load), cells)


def _targets(work: str) -> list[int]:
    if "-" in work:
        return [int(target) for target in work.split("-")]
    sets, _, reps = work.partition("x")
    return int(sets) * [int(reps)]


def session(
    number: int,
    day: str,
    *exercises: Asked,
    client: int = CLIENT,
    block: int = 1,
    week: int = 1,
    block_end: str | None = None,
) -> Session:
    """Session `number` is suggested for `day`; nothing said, it asks for squats."""
    end = None if block_end is None else day_of(block_end)
    return Session(number, day_of(day), exercises or (asked(),), client, block, week, end)


def planned_days(count: int, start: str = "2026-01-05", every: int = 7) -> list[str]:
    first = date.fromisoformat(start)
    return [(first + timedelta(days=every * number)).isoformat() for number in range(count)]


def weekly(*texts: str, start: str = "2026-01-05", every: int = 7, **options: object) -> list[Session]:
    """A session a week (or every so many days) from `start` on, numbered from 1, of squats as its text says."""
    days = planned_days(len(texts), start, every)
    return [
        session(number, day, asked(text, **options), week=number)  # type: ignore[arg-type]
        for number, (day, text) in enumerate(zip(days, texts, strict=True), start=1)
    ]


def log(
    day: str,
    sets: str | Mapping[int, str] = "8@20 8@20 8@20",
    *,
    of: int = ABSENT,
    client: int = CLIENT,
    minutes: float = NAN,
    effort: float = NAN,
    **about: object,
) -> Log:
    """Squats done on a day, `of` the session that the log names; no sets at all: trained, no details."""
    by_exercise = {SQUAT: sets} if isinstance(sets, str) else sets
    cells: Row = {"client_id": client, "given_session_id": of, "minutes": minutes, "effort": effort}
    return Log(day_of(day), by_exercise if any(by_exercise.values()) else {}, cells, **about)  # type: ignore[arg-type]


def weekly_logs(*texts: str, start: str = "2026-01-05", every: int = 7, **about: object) -> list[Log]:
    """The logs of the sessions that `weekly` plans, each on its day; an empty text is a session without one."""
    days = planned_days(len(texts), start, every)
    return [
        log(day, text, of=number, **about)  # type: ignore[arg-type]
        for number, (day, text) in enumerate(zip(days, texts, strict=True), start=1)
        if text
    ]


def client(
    client_id: int = CLIENT,
    *,
    joined: str = "2026-01-01",
    sends: Sends = Sends.EACH,
    minutes: float = NAN,
    is_active: bool = True,
) -> Row:
    about = {"joined_day": day_of(joined), "sends": sends, "minutes": minutes, "is_active": is_active}
    return {"client_id": client_id, **about}


def record(
    plan: Iterable[Session] = (),
    logs: Iterable[Log] = (),
    *,
    on: str,
    clients: Iterable[Row] | None = None,
    pauses: Iterable[tuple[str, str]] = (),
    exercises: Iterable[tuple[int, int, int]] = (),
    ties: Iterable[tuple[int, int]] = (),
    closings: Iterable[tuple[str, int]] = (),
    check_ins_from: str = "",
    call_set: str = "",
    calls: Iterable[tuple[str, str]] = (),
) -> Record:
    """The record as at a day. `exercises` are (id, implements, sides), `ties` (exercise, region), `calls` (due, held).

    `closings` of pain are (day, how many of the logs had been filed by then).
    """
    plan, logs = list(plan), list(logs)
    rows: dict[str, list[Row]] = {name: [] for name in COLUMNS}
    rows["clients"] = [{**one, "as_of_day": day_of(on)} for one in (clients or [client()])]
    rows["pauses"] = [
        {"client_id": CLIENT, "from_day": day_of(first), "until_day": day_of(last)} for first, last in pauses
    ]
    rows["exercises"] = [{"exercise_id": pk, "implements": count, "sides": sides} for pk, count, sides in exercises]
    rows["exercise_regions"] = [{"exercise_id": exercise, "region_code": region} for exercise, region in ties]
    rows["pain_closings"] = [{"client_id": CLIENT, "day": day_of(day), "order": filed} for day, filed in closings]
    if check_ins_from:
        set_day = day_of(call_set) if call_set else NAN
        rows["check_in_plans"] = [{"client_id": CLIENT, "begins_day": day_of(check_ins_from), "set_day": set_day}]
    rows["check_ins"] = [{"client_id": CLIENT, "due_day": day_of(due), "held_day": day_of(held)} for due, held in calls]
    _add_plan(rows, plan)
    _add_logs(rows, logs)
    return Record(**{name: _frame(name, of_frame) for name, of_frame in rows.items()})


def _frame(name: str, rows: list[Row]) -> object:
    return build_frame(name, {column: [row[column] for row in rows] for column in COLUMNS[name]})


def _add_plan(rows: dict[str, list[Row]], plan: list[Session]) -> None:
    ladders: dict[tuple[int, ...], int] = {}
    ends = {one.block: max(other.day for other in plan if other.block == one.block) for one in plan}
    for one in plan:
        end = ends[one.block] + 6 - (ends[one.block] + 3) % 7 if one.block_end is None else one.block_end
        rows["planned_sessions"].append({
            "session_id": one.number, "client_id": one.client, "block_id": one.block, "week": one.week,
            "suggested_day": one.day, "block_end_day": end,
        })
        for position, work in enumerate(one.asked, start=1):
            planned_id = planned_id_of(one.number, position)
            code = ladders.setdefault(tuple(work.targets), -1 - len(ladders)) if work.is_ladder else work.targets[0]
            rows["planned_exercises"].append({
                "planned_id": planned_id, "session_id": one.number, "position": position,
                "exercise_id": work.exercise, "sets": len(work.targets), "reps": work.targets[0], "target_code": code,
                "load_code": work.load_code, **work.cells,
            })
            if work.is_ladder:
                rows["set_targets"] += [
                    {"planned_id": planned_id, "number": number, "reps": reps}
                    for number, reps in enumerate(work.targets, start=1)
                ]


def planned_id_of(session_number: int, position: int = 1) -> int:
    return 100 * session_number + position


def _add_logs(rows: dict[str, list[Row]], logs: list[Log]) -> None:
    for filed, one in enumerate(logs, start=1):
        log_id = log_id_of(filed)
        rows["session_logs"].append({
            "log_id": log_id, "performed_day": one.day, "filed": filed, "has_details": bool(one.sets), **one.cells,
        })
        rows["set_logs"] += [{"log_id": log_id, **logged} for logged in _sets(one)]
        if one.pain is not None or one.is_alarm:
            rows["pain_reports"].append({
                "client_id": one.cells["client_id"], "log_id": log_id, "day": one.day, "order": filed,
                "pain": one.pain or 0, "region_code": one.region, "is_alarm": one.is_alarm,
            })


def log_id_of(filed: int) -> int:
    """The id of the n-th log of a record."""
    return 1000 + filed


def _sets(one: Log) -> Iterable[Row]:
    position = 0
    for exercise, text in one.sets.items():
        written = text.split()
        for number, text_of_set in enumerate(written, start=1):
            position += 1
            work, _, rest = text_of_set.rstrip("*").partition("/")
            reps, _, load = work.partition("@")
            left = one.last_reps_left if number == len(written) else RepsLeft.UNKNOWN
            yield {
                "position": position, "number": number, "exercise_id": exercise,
                "asked_id": one.swapped.get(exercise, exercise), "reps": int(reps), "measure": one.measure,
                "load_code": load_code(load), "rest_s": float(rest) if rest else NAN,
                "is_warm_up": text_of_set.endswith("*"), "reps_left": left, "body_g": one.body_g,
            }


def assessed(
    plan: Iterable[Session] = (),
    logs: Iterable[Log] = (),
    *,
    on: str,
    thresholds: Thresholds | None = None,
    **about: object,
) -> Assessment:
    return assess(record(plan, logs, on=on, **about), thresholds)  # type: ignore[arg-type]
