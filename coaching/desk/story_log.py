"""The log of a client, newest first: what they sent, set by set."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from typing import NamedTuple

from coaching.monitoring.load_words import load_text
from coaching.monitoring.models import LogFact
from coaching.monitoring.plain_words import number_text
from roster.blocks.models import Measure, PlannedSession
from roster.logs.models import ExtraWork, SessionLog, SetLog
from roster.mass import LoadKind

LOGS_A_PAGE = 12


class LoggedSet(NamedTuple):
    session_log_id: int
    exercise: str
    asked: str | None
    swap_reason: str
    reps: int
    measure: str
    load_kind: str
    load_g: int | None
    band: str
    is_warm_up: bool


@dataclass(frozen=True, slots=True)
class LogEntry:
    """One session log."""

    log: SessionLog
    fact: LogFact
    # Such as "B, week 3 of Block 5", "extra session".
    session: str
    # Exercise and its sets, such as ("Goblet squat", "9-9-8-6 × 18 kg").
    exercises: list[tuple[str, str]]
    extra_work: list[str]

    @property
    def is_second(self) -> bool:
        return self.fact.standing == LogFact.Standing.SECOND

    @property
    def has_pain(self) -> bool:
        return bool(self.log.pain) or bool(self.log.pain_next_morning) or self.log.has_alarm_symptom


def build_entries(facts: Sequence[LogFact], unit: str) -> list[LogEntry]:
    ids = [fact.session_log_id for fact in facts]
    sets, work = _read_sets(ids), _read_extra_work(ids)
    names = _session_names({fact.planned_session_id for fact in facts if fact.planned_session_id})
    return [
        LogEntry(
            log=fact.session_log,
            fact=fact,
            session=names.get(fact.planned_session_id, "extra session"),
            exercises=_exercises(sets[fact.session_log_id], unit),
            extra_work=work[fact.session_log_id],
        )
        for fact in facts
    ]


def months_of(entries: Iterable[LogEntry]) -> list[tuple[date, list[LogEntry]]]:
    """The entries under the first days of their months, in the order given."""
    return [
        (month, list(group)) for month, group in groupby(entries, lambda entry: entry.log.performed_on.replace(day=1))
    ]


def _session_names(planned_ids: Collection[int]) -> dict[int, str]:
    planned = PlannedSession.objects.select_related("block").in_bulk(planned_ids)
    return {pk: _session_name(session) for pk, session in planned.items()}


def _session_name(planned: PlannedSession) -> str:
    label = f"{planned.label}, " if planned.label else ""
    return f"{label}week {planned.week} of {planned.block.label}"


def _read_sets(log_ids: Sequence[int]) -> Mapping[int, list[LoggedSet]]:
    columns = ("session_log_id", "exercise__name", "asked__name", "swap_reason", "reps", "measure", "load_kind")
    rows = SetLog.objects.filter(session_log__in=log_ids).order_by("session_log_id", "position")
    by_log: dict[int, list[LoggedSet]] = defaultdict(list)
    for row in rows.values_list(*columns, "load_g", "band", "is_warm_up"):
        by_log[row[0]].append(LoggedSet._make(row))
    return by_log


def _read_extra_work(log_ids: Sequence[int]) -> Mapping[int, list[str]]:
    by_log: dict[int, list[str]] = defaultdict(list)
    for work in ExtraWork.objects.filter(session_log__in=log_ids).order_by("pk"):
        by_log[work.session_log_id].append(f"{work.what}, {number_text(work.minutes)} min")
    return by_log


def _exercises(sets: Iterable[LoggedSet], unit: str) -> list[tuple[str, str]]:
    """One line for each exercise in the order logged, though its sets were logged in turn with another's."""
    by_exercise: dict[tuple[str, bool], list[LoggedSet]] = defaultdict(list)
    for one in sets:
        by_exercise[_exercise_name(one), one.is_warm_up].append(one)
    return [
        (f"{name}, warm-up" if is_warm_up else name, sets_line(alike, unit))
        for (name, is_warm_up), alike in by_exercise.items()
    ]


def _exercise_name(one: LoggedSet) -> str:
    if not one.asked:
        return one.exercise
    because = f", {one.swap_reason}" if one.swap_reason else ""
    return f"{one.exercise} (for {one.asked}{because})"


def sets_line(sets: Iterable[LoggedSet], unit: str) -> str:
    """Such as "9-9-8-6 × 18 kg", "10 × 20 kg, 8-8 × 18 kg", "30-30 s", "12-12, band green"."""
    runs = groupby(sets, lambda one: (one.load_kind, one.load_g, one.band, one.measure))
    return ", ".join(_run(list(run), *key, unit) for key, run in runs)


def _run(run: list[LoggedSet], load_kind: str, load_g: int | None, band: str, measure: str, unit: str) -> str:
    reps = "-".join(str(one.reps) for one in run) + ("" if measure == Measure.REPS else f" {measure}")
    match load_kind:
        case LoadKind.MASS:
            return f"{reps} × {load_text(load_kind, load_g, band, unit)}"
        case LoadKind.BAND:
            return f"{reps}, {load_text(load_kind, load_g, band, unit)}"
        case _:
            return reps
