"""The sample files that come with the product load as they are, and something is found in them."""

from __future__ import annotations

from datetime import date

import pytest
from django.conf import settings

from coaching.monitoring.export import export_rows
from coaching.monitoring.loading import load_file
from roster.people.models import Coach

FILES = settings.BASE_DIR / "fixtures" / "tiny_studio"


@pytest.fixture
def loaded(coach: Coach) -> Coach:
    for kind in ("clients", "blocks", "logs"):
        report = load_file(kind, FILES / f"{kind}.csv", coach.studio, by=coach)
        assert list(report.faults) == []
        assert report.warnings == []
    return coach


def test_the_worked_case_moves_480_640_800_and_800_kilograms(loaded: Coach) -> None:
    exposures = export_rows("exposures", loaded.studio, as_of=date(2026, 3, 29), client_key="lena")

    squats = [row["tonnage_kg"] for row in exposures if row["exercise"] == "goblet squat"]

    assert squats == [480, 640, 800, 800]


def test_somebody_is_stuck_on_a_load(loaded: Coach) -> None:
    flags = export_rows("flags", loaded.studio, as_of=date(2026, 3, 20), client_key="omar")

    assert [(row["kind"], row["subject"], row["urgency"]) for row in flags] == [("stall", "front-held squat", "act")]
