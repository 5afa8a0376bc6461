"""Facts of a client for the Client story, and how its page is read."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date, timedelta

from bs4 import BeautifulSoup

from coaching.monitoring.models import SessionFact, Status
from roster.people.models import Client
from tests.coaching.factories import (
    BlockFactory,
    ExerciseFactory,
    ExposureFactFactory,
    LogFactFactory,
    PlannedExerciseFactory,
    PlannedSessionFactory,
    SessionFactFactory,
    SessionLogFactory,
    SetLogFactory,
    WeekFactFactory,
)

ReadStory = Callable[..., BeautifulSoup]


def a_session(client: Client, day: date, label: str = "A", *, done: bool = True, **log: object) -> SessionFact:
    """Of the second week of Block 5: one exercise, four sets of ten at 20 kg, logged as asked."""
    starts_on = day - timedelta(days=day.weekday() + 7)
    block = client.blocks.filter(starts_on=starts_on).first() or BlockFactory(
        client=client, starts_on=starts_on, label=f"Block {client.blocks.count() + 5}"
    )
    planned = PlannedSessionFactory(block=block, week=2, label=label, suggested_on=day)
    squat = client.studio.exercises.first() or ExerciseFactory(studio=client.studio, name="Goblet squat")
    asked = PlannedExerciseFactory(session=planned, exercise=squat, sets=4, reps=10, rest_s=65)
    if not done:
        return SessionFactFactory(
            planned_session=planned, status=Status.MISSED, performed_on=None, counted_sets=0, planned_sets=4
        )
    session_log = SessionLogFactory(client=client, performed_on=day, planned_session=planned, **log)
    for number in range(1, 5):
        SetLogFactory(session_log=session_log, exercise=squat, position=number, reps=10)
    LogFactFactory(session_log=session_log, planned_session=planned, tonnage_g=800_000, working_sets=4)
    ExposureFactFactory(planned_exercise=asked, session_log=session_log, reps_done="10-10-10-10")
    return SessionFactFactory(planned_session=planned, session_log=session_log, counted_sets=4, planned_sets=4)


def a_week(client: Client, monday: date, **more: object) -> None:
    plain = {
        "tonnage_kg": 800.0,
        "planned_tonnage_g": 1_000_000,
        "dose": 0.8,
        "minutes": 25.0,
        "timed_tonnage_g": 800_000,
        "timed_minutes": 25,
        "timed_planned_tonnage_g": 1_000_000,
        "timed_planned_minutes": 30,
    }
    WeekFactFactory(client=client, week_start=monday, **{**plain, **more})


def figures_of(story: BeautifulSoup) -> dict[str, dict[str, list[dict[str, object]]]]:
    return json.loads(story.select_one("#story-figures").text)


def no_figure_is_broken(story: BeautifulSoup) -> bool:
    text = story.select_one("main").text
    return "NaN" not in text and "None" not in text and "inf" not in text.split()
