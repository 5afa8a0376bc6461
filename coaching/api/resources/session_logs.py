from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.db.models import Prefetch, prefetch_related_objects

from coaching.api.answering import FactList, OneFact
from coaching.api.fields import RowOf, amount, choice, client_members, count, day, ident, rows, text, truth
from coaching.api.parameters import ClientFilters, any_of, one, whether
from coaching.api.parameters import day as on_day
from coaching.monitoring.fact_pages import Person, Placed
from coaching.monitoring.fact_shapes import Row, kilograms
from coaching.monitoring.fact_sources import LOGS
from coaching.monitoring.models import LogFact
from roster.blocks.models import Measure
from roster.logs.models import SessionLog, SetLog
from roster.mass import LoadKind


class SetRow(RowOf):
    position = count("As filed, from 1.")
    exercise_id = ident("The exercise that was done.")
    exercise = text("Its name.")
    asked_id = ident("The exercise in whose place it was done.", null=True)
    swap_reason = text("Why.", null=True)
    number = count("The client's number of the set.")
    reps = count("Or seconds, or metres.")
    measure = choice(Measure.choices, "What it counts.")
    load_kind = choice(LoadKind.choices, "What made it heavy.")
    load_kg = amount("Of each implement.", null=True)
    load_entered = amount("The load as the client wrote it.", null=True)
    load_unit = text("The unit of that, kg or lb.", null=True)
    band = text("The band's name.", null=True)
    rest_s = count("Seconds of rest.", null=True)
    is_warm_up = truth("Whether it was for warming up, and counts for nothing.")
    reps_left = text("How many more could have been done: 0-1, 2-3 or 4+.", null=True)


class SessionLogRow(RowOf):
    id = ident("The log's id.")
    client_id, client = client_members()
    planned_session_id = ident("The planned session that it is a log of, given or found.", null=True)
    standing = choice(LogFact.Standing.choices, "Whether it is that session's log, a second one, or an extra session.")
    performed_on = day("The local day that the client chose.")
    has_details = truth("False: trained, and nothing more was told.")
    minutes = amount("How long it took.", null=True)
    effort = amount("Of the session, 0 to 10.", null=True)
    pain = amount("0 to 10.", null=True)
    pain_region = text("Where.", null=True)
    pain_next_morning = amount("0 to 10.", null=True)
    has_alarm_symptom = truth("Whether one of the symptoms was told that ask for medical help.")
    note = text("In the client's words.", null=True)
    working_sets = count("Sets with a rep or more, without warm-up.")
    tonnage_kg = amount("Reps x kilograms x implements; null without details.", null=True)
    submission = ident("The UUID under which it came in.")
    revision = count("Which version of that this is, from 1.")
    sets = rows(SetRow, "As filed.")


EXAMPLE: Row = {
    "id": "9b8a9b0e-9a3d-4dfb-8a68-5f1f4b0c7d33", "client_id": "6f0c8a52-3a8e-4b0e-9a55-0d2f6c1c7e11",
    "client": "ada.finn", "planned_session_id": "f3f7a3c6-2f64-4d8a-8a8a-2a1f6f0f9b02", "standing": "first",
    "performed_on": "2026-03-02", "has_details": True, "minutes": 38.0, "effort": 6.0, "pain": 0.0, "pain_region": None,
    "pain_next_morning": None, "has_alarm_symptom": False, "note": "felt light", "working_sets": 3, "tonnage_kg": 480.0,
    "submission": "5f1f9a9e-0d1c-5e5e-9c5a-3b0a2f1d7a10", "revision": 1,
    "sets": [{
        "position": 1, "exercise_id": "b39e0e0f-54b9-4c35-8b8e-0c3cf2f2a4d0", "exercise": "Goblet squat",
        "asked_id": None, "swap_reason": None, "number": 1, "reps": 8, "measure": "reps", "load_kind": "mass",
        "load_kg": 20.0, "load_entered": 20.0, "load_unit": "kg", "band": None, "rest_s": 75, "is_warm_up": False,
        "reps_left": "2-3",
    }],
}  # fmt: skip


class SessionLogFilters(ClientFilters):
    planned_session = one("planned_session__public_id", "Of one planned session.")
    block = one("planned_session__block__public_id", "Of one block.")
    standing = any_of("standing", LogFact.Standing.choices, "What it is to the plan.")
    has_details = whether("session_log__has_details", "Whether more was told than that they trained.")
    performed_from = on_day("performed_on", "gte", "Done on this day or later.")
    performed_to = on_day("performed_on", "lte", "Done on this day or earlier.")


def session_log_rows(page: Sequence[Placed]) -> list[Row]:
    sets = SetLog.objects.select_related("exercise", "asked").order_by("position")
    prefetch_related_objects([one.fact.session_log for one in page], Prefetch("sets", sets))
    return [_row(person, fact) for person, fact in page]


def _row(person: Person, fact: Any) -> Row:
    log: SessionLog = fact.session_log
    same = ("performed_on", "has_details", "pain_region", "has_alarm_symptom", "note")
    numbers = ("minutes", "effort", "pain", "pain_next_morning")
    return {
        "id": log.public_id, "client_id": person.public_id, "client": person.key,
        "planned_session_id": fact.planned_session and fact.planned_session.public_id, "standing": fact.standing,
        **{name: getattr(log, name) for name in same}, **{name: _number(getattr(log, name)) for name in numbers},
        "working_sets": fact.working_sets, "tonnage_kg": kilograms(fact.tonnage_g), "submission": log.submission.uuid,
        "revision": log.submission.revision,
        "sets": [SetRow().to_representation(_set_row(one)) for one in log.sets.all()],
    }


def _set_row(one: SetLog) -> Row:
    same = (
        "position", "swap_reason", "number", "reps", "measure", "load_kind", "load_unit", "band", "rest_s",
        "is_warm_up", "reps_left",
    )
    return {
        **{name: getattr(one, name) for name in same}, "exercise_id": one.exercise.public_id,
        "exercise": one.exercise.name, "asked_id": one.asked and one.asked.public_id,
        "load_kg": kilograms(one.load_g), "load_entered": _number(one.load_entered),
    }


def _number(value: Any) -> float | None:
    return None if value is None else float(value)


class SessionLogs(FactList):
    name = "session-logs"
    summary = "Sessions that were logged, with their sets: client after client, each one's by the day they were done."
    shape, example, filters, source = SessionLogRow, EXAMPLE, SessionLogFilters, LOGS
    tells_health = True

    def rows(self, page: Sequence[Placed]) -> list[Row]:
        return session_log_rows(page)


class OneSessionLog(OneFact):
    name, summary = "session-logs", "One logged session, with its sets."
    shape, example, tells_health = SessionLogRow, EXAMPLE, True
    source, about, of_client = LOGS, "session_log", "session_logs"

    def rows(self, page: Sequence[Placed]) -> list[Row]:
        return session_log_rows(page)
