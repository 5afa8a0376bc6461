"""Rows of the record as the tables that analytics starts from: the only way from one to the other."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

import numpy as np

from analytics import frame_schema
from analytics.frame_schema import ABSENT, BODY_WEIGHT, Changed, Measure, Record, RepsLeft, Sends, build_table
from analytics.table import Table
from coaching.monitoring import record_reads
from coaching.monitoring.body_mass import moved_body_g
from coaching.monitoring.check_in_frames import check_in_plans, check_ins
from roster.labels import fold
from roster.logs.models import SessionLog
from roster.mass import LoadKind
from roster.people.models import Client

Columns = Sequence[tuple[Any, ...]]
_EPOCH = date(1970, 1, 1).toordinal()
_SENDS = {"each": Sends.EACH, "weekly": Sends.WEEKLY, "block": Sends.BLOCK}
_MEASURES = {"reps": Measure.REPS, "s": Measure.SECONDS, "m": Measure.METRES}
_CHANGED = {
    "none": Changed.NONE, "sets": Changed.SETS, "reps": Changed.REPS, "rest": Changed.REST,
    "load": Changed.LOAD, "deload": Changed.DELOAD,
}
_REPS_LEFT = {
    "": RepsLeft.UNKNOWN, "0-1": RepsLeft.NONE_OR_ONE, "2-3": RepsLeft.TWO_OR_THREE, "4+": RepsLeft.FOUR_OR_MORE,
}


@dataclass(frozen=True)
class LoadedRecord:
    """The record of some clients as frames, with the words behind the codes of regions."""

    record: Record
    # The region of a log's pain, as the client wrote it there, by the log's id.
    regions: dict[int, str]


class _Codes:
    """Codes from 0 for words that people typed, equal where they are equal folded."""

    def __init__(self) -> None:
        self._codes: dict[str, int] = {}

    def of(self, word: str) -> int:
        folded = fold(word)
        return self._codes.setdefault(folded, len(self._codes)) if folded else ABSENT


def load_record(as_of: Mapping[int, date]) -> LoadedRecord:
    """The record of the clients whose ids are the keys of `as_of`, each as at its own day; so many queries, no more."""
    ids = list(as_of)
    regions, bands = _Codes(), _Codes()
    sessions, logs, sets = (
        read.columns(ids) for read in (record_reads.PLANNED_SESSIONS, record_reads.SESSION_LOGS, record_reads.SET_LOGS)
    )
    planned, targets = _planned_exercises(ids, bands)
    named = record_reads.EXERCISES.columns(sorted({*planned["exercise_id"].tolist(), *sets[3]}))
    people = record_reads.CLIENTS.columns(ids)
    plans = check_in_plans(people)
    record = Record(
        clients=_clients(as_of, people),
        pauses=_pauses(ids),
        planned_sessions=_planned_sessions(sessions),
        planned_exercises=planned,
        set_targets=targets,
        exercises=build_table("exercises", {
            "exercise_id": named[0], "implements": named[1], "sides": _sides(named[2]),
        }),
        exercise_regions=_exercise_regions(named, regions),
        session_logs=_session_logs(logs),
        set_logs=_set_logs(ids, logs, sets, dict(zip(named[0], named[4], strict=True)), bands),
        pain_reports=_pain_reports(logs, regions),
        pain_closings=_pain_closings(ids),
        check_in_plans=plans,
        check_ins=check_ins(plans["client_id"].tolist()),
    )
    written = {pk: region.strip() for pk, region in zip(logs[0], logs[10], strict=True) if region.strip()}
    return LoadedRecord(record, written)


def to_days(dates: Iterable[date]) -> np.ndarray:
    """Day numbers (days since 1970-01-01) of dates."""
    return np.fromiter((day.toordinal() - _EPOCH for day in dates), dtype=np.int64)


def to_floats(numbers: Sequence[Any]) -> np.ndarray:
    """Numbers, or NaN where there is none."""
    return np.array(numbers, dtype=np.float64)


def _ids(ids: Iterable[int | None]) -> np.ndarray:
    return np.fromiter((ABSENT if pk is None else pk for pk in ids), dtype=np.int64)


def _sides(is_each_side: Iterable[bool]) -> list[int]:
    return [2 if each else 1 for each in is_each_side]


def _clients(as_of: Mapping[int, date], columns: Columns) -> Table:
    return build_table("clients", {
        "client_id": columns[0],
        "as_of_day": to_days(as_of[pk] for pk in columns[0]),
        "joined_day": to_days(columns[1]),
        "sends": [_SENDS[sends] for sends in columns[2]],
        "minutes": to_floats(columns[3]),
        "is_active": [state == Client.State.ACTIVE for state in columns[4]],
    })


def _pauses(ids: list[int]) -> Table:
    columns = record_reads.PAUSES.columns(ids)
    return build_table("pauses", {
        "client_id": columns[0], "from_day": to_days(columns[1]), "until_day": to_days(columns[2]),
    })


def _planned_sessions(columns: Columns) -> Table:
    return build_table("planned_sessions", {
        "session_id": columns[0], "client_id": columns[1], "block_id": columns[2], "week": columns[3],
        "suggested_day": to_days(columns[4]),
        "block_end_day": to_days(columns[5]) + 7 * np.asarray(columns[6], dtype=np.int64) - 1,
    })


def _planned_exercises(ids: list[int], bands: _Codes) -> tuple[Table, Table]:
    columns = record_reads.PLANNED_EXERCISES.columns(ids)
    target_codes, target_rows = _targets(columns[0], columns[5], columns[6])
    planned = build_table("planned_exercises", {
        "planned_id": columns[0], "session_id": columns[1], "position": columns[2], "exercise_id": columns[3],
        "sets": columns[4], "reps": columns[5], "target_code": target_codes,
        "load_code": _load_codes(columns[7], columns[8], columns[9], bands),
        "implements": columns[10], "sides": _sides(columns[11]),
        "measure": [_MEASURES[measure] for measure in columns[12]], "rest_s": to_floats(columns[13]),
        "changed": [_CHANGED[changed] for changed in columns[14]], "tempo_s": to_floats(columns[15]),
    })
    return planned, build_table("set_targets", {
        "planned_id": [row[0] for row in target_rows], "number": [row[1] for row in target_rows],
        "reps": [row[2] for row in target_rows],
    })


def _targets(
    ids: Sequence[int], reps: Sequence[int], targets: Sequence[list[int] | None]
) -> tuple[list[int], list[tuple[int, int, int]]]:
    """A code that is equal where the targets of all sets are, and a row for every set with a target of its own."""
    codes: list[int] = []
    rows: list[tuple[int, int, int]] = []
    # Below zero, so that it never equals a number of reps that holds for all sets.
    own: dict[tuple[int, ...], int] = {}
    for pk, for_all, of_sets in zip(ids, reps, targets, strict=True):
        if of_sets:
            codes.append(own.setdefault(tuple(of_sets), -1 - len(own)))
            rows += [(pk, number, target) for number, target in enumerate(of_sets, start=1)]
        else:
            codes.append(for_all)
    return codes, rows


def _load_codes(
    kinds: Iterable[str], grams: Iterable[int | None], names: Iterable[str], bands: _Codes
) -> list[int]:
    """Grams of a mass; -1 for body weight; a code below that for each band."""

    def without_mass(kind: str, band: str) -> int:
        return BODY_WEIGHT if kind == body else BODY_WEIGHT - 1 - max(bands.of(band), 0)

    # Looked up once: members of an enumeration are slow to compare.
    mass, body = LoadKind.MASS.value, LoadKind.BODY.value
    return [
        load_g or 0 if kind == mass else without_mass(kind, band)
        for kind, load_g, band in zip(kinds, grams, names, strict=True)
    ]


def _session_logs(columns: Columns) -> Table:
    return build_table("session_logs", {
        "log_id": columns[0], "client_id": columns[1], "performed_day": to_days(columns[2]),
        "given_session_id": _ids(columns[3]), "filed": columns[0], "has_details": columns[4],
        "minutes": to_floats(columns[5]), "effort": to_floats(columns[6]),
    })


def _set_logs(
    ids: list[int], logs: Columns, columns: Columns, shares: Mapping[int, Any], bands: _Codes
) -> Table:
    done = np.asarray(columns[3], dtype=np.int64)
    asked = _ids(columns[4])
    return build_table("set_logs", {
        "log_id": columns[0], "position": columns[1], "number": columns[2], "exercise_id": done,
        "asked_id": np.where(asked == ABSENT, done, asked), "reps": columns[5],
        "measure": [_MEASURES[measure] for measure in columns[6]],
        "load_code": _load_codes(columns[7], columns[8], columns[9], bands),
        "rest_s": to_floats(columns[10]), "is_warm_up": columns[11],
        "reps_left": [_REPS_LEFT[left] for left in columns[12]],
        "body_g": moved_body_g(ids, logs, np.asarray(columns[0], dtype=np.int64), done, shares),
    })


def _exercise_regions(exercises: Columns, regions: _Codes) -> Table:
    ties = [(pk, regions.of(region)) for pk, named in zip(exercises[0], exercises[3], strict=True) for region in named]
    return build_table("exercise_regions", {
        "exercise_id": [tie[0] for tie in ties], "region_code": [tie[1] for tie in ties],
    })


def _pain_reports(logs: Columns, regions: _Codes) -> Table:
    """A report for the pain of a session, and one after it for that of the next morning."""
    rows = []
    for pk, client_id, performed_on, pain, morning, is_alarm, region in zip(
        logs[0], logs[1], logs[2], logs[7], logs[8], logs[9], logs[10], strict=True
    ):
        if pain is None and morning is None and not is_alarm:
            continue
        code, day = regions.of(region), performed_on.toordinal() - _EPOCH
        if pain is not None or is_alarm:
            rows.append((client_id, pk, day, _order_next_morning(pk) - 1, float(pain or 0), code, is_alarm))
        if morning is not None:
            rows.append((client_id, pk, day, _order_next_morning(pk), float(morning), code, False))
    columns = list(zip(*rows, strict=True)) if rows else [()] * 7
    names = frame_schema.COLUMNS["pain_reports"]
    return build_table("pain_reports", dict(zip(names, columns, strict=True)))


def _pain_closings(ids: list[int]) -> Table:
    closings = record_reads.PAIN_CLOSINGS.rows(ids)
    return build_table("pain_closings", {
        "client_id": [client_id for client_id, _, _ in closings],
        "day": to_days(day for _, day, _ in closings),
        "order": _orders_known_by(closings) if closings else [],
    })


def _orders_known_by(closings: list[tuple[int, date, datetime]]) -> list[int]:
    """Of each closing the last report of its day that had come in by then; -1 where none had."""
    logs = list(
        SessionLog.objects.filter(client_id__in={client_id for client_id, _, _ in closings})
        .filter(performed_on__in={day for _, day, _ in closings})
        .values_list("client_id", "performed_on", "submission__received_at", "pk")
    )

    def order(client_id: int, day: date, at: datetime) -> int:
        same_day = [log for log in logs if log[:2] == (client_id, day)]
        return max((_order_next_morning(pk) for *_, received_at, pk in same_day if received_at <= at), default=ABSENT)

    return [order(*closing) for closing in closings]


def _order_next_morning(log_id: int) -> int:
    """A log's own report comes first, that of the next morning after it."""
    return 2 * log_id + 1
