"""A drawn record as rows of the embedded database, a studio of its own, written in bulk and then assessed."""

from __future__ import annotations

import json
import uuid
from collections.abc import Iterable, Iterator, Mapping
from datetime import UTC, datetime
from typing import Any

import numpy as np
import pandas as pd
from django.db import connection, models, transaction
from django.utils import timezone

from analytics.frame_schema import ABSENT, Changed, Measure, Record, Sends
from analytics.training_weeks import to_date
from coaching.monitoring.refresh import reassess
from roster.blocks.models import Block, Exercise, PlannedExercise, PlannedSession
from roster.labels import fold
from roster.logs.models import SessionLog, SetLog, Submission
from roster.people.models import Client, Coach, Pause, Studio

ROWS_AT_ONCE = 50_000
_MEASURES = {Measure.REPS: "reps", Measure.SECONDS: "s", Measure.METRES: "m"}
_REPS_LEFT = {-1: "", 0: "0-1", 1: "2-3", 2: "4+"}
_LONG_AGO = datetime(2020, 1, 1, tzinfo=UTC)


def fill_studio(name: str, record: Record, leads: Mapping[str, int]) -> dict[str, Coach]:
    """A studio with the clients of the record, and coaches who lead so many of them; the owner leads the rest."""
    studio = Studio.objects.create(name=name)
    owner = Coach.objects.create(email=f"owner@{fold(name)}.example", studio=studio, role=Coach.Role.OWNER)
    coaches = {
        who: Coach.objects.create(email=f"{who}@{fold(name)}.example", studio=studio, role=Coach.Role.COACH)
        for who in leads
    }
    leading = [coach for who, coach in coaches.items() for _ in range(leads[who])]
    with transaction.atomic():
        clients = _clients(record, studio, leading, owner)
        exercises = _exercises(record, studio)
        session_base = _plan(record, clients, exercises)
        _logs(record, clients, exercises, session_base)
    reassess(Client.objects.filter(studio=studio), now=timezone.now())
    return {"owner": owner, **coaches}


def insert(model: type[models.Model], columns: Mapping[str, Iterable[Any]]) -> None:
    """Rows by column, in as few statements as there can be; what is not named has its default."""
    given = dict(columns)
    fields = model._meta.concrete_fields
    placeholders = ", ".join(["%s"] * len(fields))
    names = ", ".join(connection.ops.quote_name(field.column) for field in fields)
    statement = f"INSERT INTO {connection.ops.quote_name(model._meta.db_table)} ({names}) VALUES ({placeholders})"
    rows = zip(*[given.get(field.attname) or _defaults(field) for field in fields], strict=False)
    with connection.cursor() as cursor:
        for batch in _batches(rows):
            cursor.executemany(statement, batch)


def _defaults(field: models.Field[Any, Any]) -> Iterator[Any]:
    if isinstance(field, models.UUIDField):
        while True:
            yield uuid.uuid4().hex
    moment = _LONG_AGO if getattr(field, "auto_now_add", False) else None
    value = field.get_db_prep_save(moment or field.get_default(), connection)
    while True:
        yield value


def _batches(rows: Iterator[tuple[Any, ...]]) -> Iterator[list[tuple[Any, ...]]]:
    batch: list[tuple[Any, ...]] = []
    for row in rows:
        batch.append(row)
        if len(batch) == ROWS_AT_ONCE:
            yield batch
            batch = []
    yield batch


def _next_id(model: type[models.Model]) -> int:
    return 1 + (model.objects.aggregate(last=models.Max("pk"))["last"] or 0)


def _clients(record: Record, studio: Studio, leading: list[Coach], owner: Coach) -> pd.Series:
    frame = record.clients.to_frame()
    clients = Client.objects.bulk_create(
        Client(
            studio=studio, lead=leading[number] if number < len(leading) else owner, key=f"k{number}",
            key_folded=fold(f"k{number}"), name=f"Client {number}", joined_on=to_date(row.joined_day),
            sends=Sends(row.sends).name.lower(), minutes=None if np.isnan(row.minutes) else int(row.minutes),
        )
        for number, row in enumerate(frame.itertuples())
    )
    ids = pd.Series([client.pk for client in clients], index=frame["client_id"])
    Pause.objects.bulk_create(
        Pause(client_id=ids[row.client_id], from_on=to_date(row.from_day), until_on=to_date(row.until_day))
        for row in record.pauses.to_frame().itertuples()
    )
    return ids


def _exercises(record: Record, studio: Studio) -> pd.Series:
    made = Exercise.objects.bulk_create(
        Exercise(studio=studio, name=f"Exercise {number}", name_folded=fold(f"Exercise {number}"), regions=[],
                 implements_used=row.implements, is_each_side=row.sides == 2)
        for number, row in enumerate(record.exercises.to_frame().itertuples())
    )
    return pd.Series([exercise.pk for exercise in made], index=record.exercises["exercise_id"])


def _plan(record: Record, clients: pd.Series, exercises: pd.Series) -> int:
    """Blocks, sessions and planned exercises; answers what is added to a session's number to make its id."""
    sessions, planned = record.planned_sessions.to_frame(), record.planned_exercises.to_frame()
    block_base, session_base, planned_base = (_next_id(model) for model in (Block, PlannedSession, PlannedExercise))
    blocks = sessions.drop_duplicates("block_id")
    monday = _mondays(blocks["suggested_day"]) - 7 * (blocks["week"] - 1)
    label = [f"Block {number}" for number in blocks["block_id"].tolist()]
    insert(Block, {
        "id": (blocks["block_id"] + block_base).tolist(), "client_id": clients[blocks["client_id"]].tolist(),
        "label": label, "label_folded": [fold(one) for one in label], "starts_on": _dates(monday),
        "weeks": ((blocks["block_end_day"] - monday + 1) // 7).tolist(), "published_at": [str(_LONG_AGO)] * len(blocks),
    })
    day_of_week = (sessions["suggested_day"] - _mondays(sessions["suggested_day"])).tolist()
    insert(PlannedSession, {
        "id": (sessions["session_id"] + session_base).tolist(),
        "block_id": (sessions["block_id"] + block_base).tolist(),
        "week": sessions["week"].tolist(), "label": [f"Day {day}" for day in day_of_week],
        "label_folded": [fold(f"Day {day}") for day in day_of_week], "suggested_on": _dates(sessions["suggested_day"]),
    })
    own = record.set_targets.to_frame().sort_values("number").groupby("planned_id")["reps"].agg(list).to_dict()
    insert(PlannedExercise, {
        "id": (planned["planned_id"] + planned_base).tolist(),
        "session_id": (planned["session_id"] + session_base).tolist(),
        "position": planned["position"].tolist(), "exercise_id": exercises[planned["exercise_id"]].tolist(),
        "slot": ["full"] * len(planned), "sets": planned["sets"].tolist(), "reps": planned["reps"].tolist(),
        "set_targets": [json.dumps(own[pk]) if pk in own else None for pk in planned["planned_id"].tolist()],
        "implements_used": planned["implements"].tolist(), "is_each_side": (planned["sides"] == 2).tolist(),
        "measure": [_MEASURES[code] for code in planned["measure"].tolist()], "rest_s": _whole(planned["rest_s"]),
        "tempo_s": _whole(planned["tempo_s"]),
        "changed": [Changed(code).name.lower() for code in planned["changed"].tolist()], **_loads(planned["load_code"]),
    })
    return session_base


def _logs(record: Record, clients: pd.Series, exercises: pd.Series, session_base: int) -> None:
    logs, sets = record.session_logs.to_frame(), record.set_logs.to_frame()
    log_base, submission_base, set_base = (_next_id(model) for model in (SessionLog, Submission, SetLog))
    client_ids = clients[logs["client_id"]].tolist()
    submission_ids = (logs["log_id"] + submission_base).tolist()
    insert(Submission, {
        "id": submission_ids, "client_id": client_ids, "door": ["file"] * len(logs), "payload": ["{}"] * len(logs),
        "fingerprint": ["0" * 64] * len(logs),
    })
    insert(SessionLog, {
        "id": (logs["log_id"] + log_base).tolist(), "client_id": client_ids, "submission_id": submission_ids,
        "planned_session_id": [
            None if pk == ABSENT else pk + session_base for pk in logs["given_session_id"].tolist()
        ],
        "performed_on": _dates(logs["performed_day"]), "has_details": logs["has_details"].tolist(),
        "minutes": _numbers(logs["minutes"]), "effort": _numbers(logs["effort"]),
    })
    done = exercises[sets["exercise_id"]].tolist()
    asked = exercises[sets["asked_id"]].tolist()
    insert(SetLog, {
        "id": range(set_base, set_base + len(sets)), "session_log_id": (sets["log_id"] + log_base).tolist(),
        "exercise_id": done, "position": sets["position"].tolist(), "number": sets["number"].tolist(),
        "asked_id": [None if one == other else other for one, other in zip(done, asked, strict=True)],
        "reps": sets["reps"].tolist(), "measure": [_MEASURES[code] for code in sets["measure"].tolist()],
        "rest_s": _whole(sets["rest_s"]), "is_warm_up": sets["is_warm_up"].tolist(),
        "reps_left": [_REPS_LEFT[code] for code in sets["reps_left"].tolist()], **_loads(sets["load_code"]),
    })


def _loads(codes: pd.Series) -> dict[str, list[Any]]:
    grams = [code if code >= 0 else None for code in codes.tolist()]
    return {
        "load_kind": ["mass" if code >= 0 else "body" if code == -1 else "band" for code in codes.tolist()],
        "load_g": grams, "load_entered": [None if load is None else load / 1000 for load in grams],
        "load_unit": ["" if load is None else "kg" for load in grams],
        "band": ["red" if code < -1 else "" for code in codes.tolist()],
    }


def _mondays(days: pd.Series) -> pd.Series:
    return days - (days + 3) % 7


def _dates(days: pd.Series) -> list[str]:
    known: dict[int, str] = {}
    return [known.get(day) or known.setdefault(day, str(to_date(day))) for day in days.tolist()]


def _numbers(numbers: pd.Series) -> list[float | None]:
    return [None if number != number else number for number in numbers.tolist()]


def _whole(numbers: pd.Series) -> list[int | None]:
    return [None if number != number else int(number) for number in numbers.tolist()]
