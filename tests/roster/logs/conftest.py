from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from roster.blocks.models import PlannedSession
from roster.logs.loading import load_logs
from roster.logs.log_rows import COLUMNS
from roster.people.models import Client, Coach
from roster.tables.report import LoadReport
from tests.coaching.factories import BlockFactory, ExerciseFactory, PlannedExerciseFactory, PlannedSessionFactory
from tests.roster.logs.rows import HEADER
from tests.roster.tables.loaded import NOW, load_text


@pytest.fixture
def planned(client: Client) -> PlannedSession:
    """Session A of the first week of block Base, with a goblet squat."""
    session = PlannedSessionFactory(block=BlockFactory(client=client, label="Base"), label="A")
    PlannedExerciseFactory(session=session, exercise=ExerciseFactory(studio=client.studio, name="Goblet squat"))
    return session


@pytest.fixture
def load(coach: Coach, planned: PlannedSession, tmp_path: Path) -> Callable[..., LoadReport]:
    return lambda text, by=coach, now=NOW: load_text(load_logs, COLUMNS, tmp_path, by, HEADER + text, now)
