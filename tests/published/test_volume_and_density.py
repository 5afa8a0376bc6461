"""Volume load, mean load and density.

Ladlow P, Conway D, Hayhurst D, Suffield C, Cassidy RP, Coppack RJ. Integration of strength training into UK Defence
Rehabilitation practice. BMJ Military Health 2020; 168: 314-319, Table 1.
"""

from __future__ import annotations

import pytest

from analytics.planned_figures import planned_exercise_figures
from tests.analytics.frames import asked, assessed, log, record, session

MINUTES = 45


def test_volume_load_is_sets_times_reps_times_load():
    """3 x 8 at 65 kg: 1560 kg."""
    plan = [session(1, "2026-01-05", asked("3x8@65"))]

    weeks = assessed(plan, [log("2026-01-05", "8@65 8@65 8@65", of=1)], on="2026-01-05").weeks

    assert weeks["tonnage_kg"].tolist() == [1560]


def test_volume_load_of_unequal_sets_is_their_sum():
    """10 at 55 kg, 8 at 65 kg and 6 at 75 kg: 1520 kg."""
    weeks = assessed([], [log("2026-01-05", "10@55 8@65 6@75")], on="2026-01-05").weeks

    assert weeks["tonnage_kg"].tolist() == [1520]


def test_mean_load_is_volume_load_over_reps():
    """1520 kg in 24 reps: printed as 63 kg."""
    plan = record([session(1, "2026-01-05", asked("1x10@55"), asked("1x8@65"), asked("1x6@75"))], on="2026-01-05")

    planned = planned_exercise_figures(plan)

    mean_load_kg = planned["tonnage_g"].sum() / 1000 / planned["total_reps"].sum()
    assert planned["total_reps"].sum() == 24
    assert mean_load_kg == pytest.approx(63.3333, abs=1e-4)
    assert round(mean_load_kg) == 63


def test_density_is_volume_load_over_the_session_s_minutes():
    """1560 kg in 45 minutes: printed as 34.7 kg a minute."""
    plan = [session(1, "2026-01-05", asked("3x8@65"))]

    weeks = assessed(plan, [log("2026-01-05", "8@65 8@65 8@65", of=1, minutes=MINUTES)], on="2026-01-05").weeks

    assert weeks["density_kg_min"][0] == pytest.approx(34.6667, abs=1e-4)
    assert round(weeks["density_kg_min"][0], 1) == 34.7
