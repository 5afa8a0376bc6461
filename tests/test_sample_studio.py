"""The three sample files go through the commands of the README to the pages that a coach would open."""

from __future__ import annotations

import csv
import io

import pytest
from django.core.management import call_command
from django.test import Client as Browser

from roster.people.models import Coach
from tests.repository import ROOT

SAMPLE = ROOT / "fixtures" / "sample_studio"


@pytest.fixture
def opened(db: None, monkeypatch: pytest.MonkeyPatch, time_machine: object) -> None:
    time_machine.move_to("2026-04-03T07:00:00Z", tick=False)  # type: ignore[attr-defined]
    monkeypatch.setenv("OWNER_PASSWORD", "a kettle of tea")
    call_command("open_studio", "North Street", owner="ana@example.org")
    for kind in ("clients", "blocks", "logs"):
        call_command(f"load_{kind}", str(SAMPLE / f"{kind}.csv"))


def exported(table: str, column: str, client: str) -> list[str]:
    out = io.StringIO()
    call_command("export", table, client=client, stdout=out)
    return [row[column] for row in csv.DictReader(io.StringIO(out.getvalue()))]


@pytest.mark.usefixtures("opened")
def test_a_round_of_four_stages_and_the_step_after_it_weigh_what_they_should() -> None:
    assert exported("weeks", "tonnage_kg", "ada.finn") == ["480.0", "640.0", "800.0", "800.0", "528.0"]


@pytest.mark.usefixtures("opened")
def test_somebody_who_sends_weekly_and_paused_is_told_as_such() -> None:
    assert exported("sessions", "status", "joss.tarn") == [
        "done", "missed", "done", "missed", "not_due", "not_due", "done", "missed", "awaited", "to_come",
    ]  # fmt: skip


@pytest.mark.usefixtures("opened")
def test_the_morning_after_shows_what_there_is_to_do() -> None:
    browser = Browser()
    browser.force_login(Coach.objects.get())

    morning = browser.get("/").content.decode()

    assert exported("flags", "kind", "ada.finn") == ["plan_runs_out", "ready"]
    assert "Goblet squat: the last stage of its round met" in morning
    assert "plan runs out" in morning


@pytest.mark.usefixtures("opened")
def test_the_same_files_again_change_nothing(capfd: pytest.CaptureFixture[str]) -> None:
    call_command("load_logs", str(SAMPLE / "logs.csv"))

    assert "0 created, 0 changed, 13 unchanged" in capfd.readouterr().err
