"""Records as frames from the invented rosters that the plain twin reads, without a database."""

from __future__ import annotations

from datetime import date, timedelta
from functools import lru_cache
from random import Random

import pandas as pd

from analytics.frame_schema import ABSENT, BODY_WEIGHT, COLUMNS, Changed, Measure, Record, RepsLeft, Sends, build_frame
from analytics.training_weeks import to_day
from tests.plain_twin import record as plain
from tests.plain_twin.mass import Load
from tests.plain_twin.reading import read_record
from tests.rosters.generate import FIRST_MONDAY, random_roster

NAN = float("nan")
MEASURES = {"reps": Measure.REPS, "s": Measure.SECONDS, "m": Measure.METRES}

Rows = dict[str, list[dict[str, object]]]


@lru_cache(maxsize=16)
def invented_record(seed: int, *, week: int = 12, clients: int = 4, weeks: int = 16) -> Record:
    """A roster of a few clients as at the Thursday of one of its weeks."""
    roster = random_roster(seed, clients=clients, weeks=weeks)
    record = read_record(roster.clients, roster.blocks, roster.logs)
    draw_check_ins(record, Random(seed), weeks)
    return frames_of(record, on=FIRST_MONDAY + timedelta(weeks=week, days=3))


def draw_check_ins(record: plain.Record, random: Random, weeks: int) -> None:
    """Calls of most clients, held early, late or long after, and now and then a day set by hand."""
    begin_on = FIRST_MONDAY + timedelta(days=random.choice([-400, 0, 20]))
    for one in record.clients:
        if random.random() < 0.2:
            continue
        days = sorted(random.sample(range(7 * weeks), random.choice([0, 0, 1, 3])))
        held = [(FIRST_MONDAY + timedelta(days=day + random.randint(-30, 6)), FIRST_MONDAY + timedelta(days=day))
                for day in days]  # fmt: skip
        set_on = FIRST_MONDAY + timedelta(days=random.randrange(-20, 7 * weeks)) if random.random() < 0.4 else None
        one.check_ins = plain.CheckIns(begin_on, set_on, held)


def frames_of(record: plain.Record, on: date) -> Record:
    return _Frames(record, on).record()


class _Frames:
    def __init__(self, record: plain.Record, on: date) -> None:
        self.rows: Rows = {name: [] for name in COLUMNS}
        self.exercises = {name: 50 + number for number, name in enumerate(sorted(record.exercise_names))}
        self.codes: dict[object, int] = {}
        self.session_ids = {
            session: number
            for number, session in enumerate(
                (session for one in record.clients for session in one.sessions), start=1
            )
        }
        for client_id, one in enumerate(record.clients, start=1):
            self._add_client(client_id, one, on)
        self.rows["exercises"] = [{"exercise_id": pk, "implements": 1, "sides": 1} for pk in self.exercises.values()]

    def record(self) -> Record:
        frames: dict[str, pd.DataFrame] = {
            name: build_frame(name, {column: [row[column] for row in rows] for column in COLUMNS[name]})
            for name, rows in self.rows.items()
        }
        return Record(**frames)

    def _code(self, *what: object) -> int:
        """A code for a region, a band or a set of targets, from 0 for each sort of thing."""
        same_sort = [known for known in self.codes if known[0] == what[0]]  # type: ignore[index]
        return self.codes.setdefault(what, len(same_sort))

    def _load_code(self, load: Load) -> int:
        if load.grams is not None:
            return load.grams
        return BODY_WEIGHT - 1 - self._code("band", load.band) if load.band else BODY_WEIGHT

    def _add_client(self, client_id: int, one: plain.Client, on: date) -> None:
        self.rows["clients"].append({
            "client_id": client_id, "as_of_day": to_day(on), "joined_day": to_day(one.joined_on),
            "sends": Sends[one.sends.upper()], "minutes": one.minutes or NAN, "is_active": True,
        })
        self.rows["pauses"] += [
            {"client_id": client_id, "from_day": to_day(first), "until_day": to_day(last)} for first, last in one.pauses
        ]
        for session in one.sessions:
            self._add_session(client_id, session)
        self._add_check_ins(client_id, one.check_ins)
        for log in one.logs:
            self._add_log(client_id, one, log)

    def _add_check_ins(self, client_id: int, calls: plain.CheckIns | None) -> None:
        if calls is None:
            return
        self.rows["check_in_plans"].append({
            "client_id": client_id, "begins_day": to_day(calls.begin_on),
            "set_day": NAN if calls.set_on is None else to_day(calls.set_on),
        })
        self.rows["check_ins"] += [
            {"client_id": client_id, "due_day": to_day(due), "held_day": to_day(held)} for due, held in calls.held
        ]

    def _add_session(self, client_id: int, session: plain.PlannedSession) -> None:
        self.rows["planned_sessions"].append({
            "session_id": self.session_ids[session], "client_id": client_id,
            "block_id": self._code("block", client_id, session.block.label), "week": session.week,
            "suggested_day": to_day(session.suggested_on), "block_end_day": to_day(session.block.last_sunday),
        })
        for planned in session.exercises:
            planned_id = len(self.rows["planned_exercises"]) + 1
            is_ladder = len(set(planned.targets)) > 1
            code = -1 - self._code("targets", planned.targets) if is_ladder else planned.targets[0]
            self.rows["planned_exercises"].append({
                "planned_id": planned_id, "session_id": self.session_ids[session], "position": planned.position,
                "exercise_id": self.exercises[planned.exercise], "sets": planned.sets, "reps": planned.targets[0],
                "target_code": code, "load_code": self._load_code(planned.load), "implements": planned.count,
                "sides": 2 if planned.is_each_side else 1, "measure": MEASURES[planned.measure],
                "rest_s": NAN if planned.rest_s is None else planned.rest_s,
                "changed": Changed[planned.changed.upper()], "tempo_s": NAN,
            })
            if is_ladder:
                self.rows["set_targets"] += [
                    {"planned_id": planned_id, "number": number, "reps": reps}
                    for number, reps in enumerate(planned.targets, start=1)
                ]

    def _add_log(self, client_id: int, one: plain.Client, log: plain.Log) -> None:
        log_id = len(self.rows["session_logs"]) + 1
        named = None if log.names is None else plain_session(one, log.names)
        day = to_day(log.performed_on)
        self.rows["session_logs"].append({
            "log_id": log_id, "client_id": client_id, "performed_day": day,
            "given_session_id": ABSENT if named is None else self.session_ids[named], "filed": log.filed,
            "has_details": log.has_details, "minutes": _number(log.minutes), "effort": _number(log.effort),
        })
        self.rows["set_logs"] += [
            {
                "log_id": log_id, "position": position, "number": done.number,
                "exercise_id": self.exercises[done.exercise], "asked_id": self.exercises[done.exercise],
                "reps": done.reps, "measure": Measure.REPS, "load_code": self._load_code(done.load),
                "rest_s": NAN if done.rest_s is None else done.rest_s, "is_warm_up": done.is_warm_up,
                "reps_left": RepsLeft.UNKNOWN, "body_g": NAN,
            }
            for position, done in enumerate(log.sets, start=1)
        ]
        if log.pain is not None:
            region = self._code("region", plain.fold(log.pain_region)) if log.pain_region else ABSENT
            self.rows["pain_reports"].append({
                "client_id": client_id, "log_id": log_id, "day": day, "order": log.filed, "pain": float(log.pain),
                "region_code": region, "is_alarm": False,
            })


def plain_session(one: plain.Client, names: tuple[str, int, str]) -> plain.PlannedSession:
    return next(
        session
        for session in one.sessions
        if (plain.fold(session.block.label), session.week, plain.fold(session.label)) == names
    )


def _number(number: object) -> float:
    return NAN if number is None else float(number)  # type: ignore[arg-type]
