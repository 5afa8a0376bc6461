"""A file, and the facts and findings that follow from it, come into the record together or not at all."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from coaching.loads import loading
from coaching.loads.loading import load_file
from coaching.monitoring.models import ClientState
from roster.blocks.models import Exercise
from roster.logs.models import SessionLog, Submission
from roster.people.models import Client, Coach
from roster.tables.report import LoadReport
from tests.coaching.factories import ClientFactory

NOW = datetime(2026, 4, 15, 7, tzinfo=UTC)


def _load_log(directory: Path, coach: Coach, key: str) -> LoadReport:
    path = directory / "logs.csv"
    path.write_text(f"client,performed_on,exercise,reps,load\n{key},2026-04-14,Row,8,20\n")
    return load_file("logs", path, coach.studio, by=coach, now=NOW)


def test_when_the_facts_cannot_be_computed_the_file_is_not_loaded(
    tmp_path: Path, coach: Coach, client: Client, monkeypatch: pytest.MonkeyPatch
):
    """ASVS 5.0 2.3.3"""
    def fail(*_: object, **__: object) -> None:
        raise OSError("disk full")

    monkeypatch.setattr(loading, "refresh_clients", fail)

    with pytest.raises(OSError, match="disk full"):
        _load_log(tmp_path, coach, client.key)

    assert not SessionLog.objects.exists()
    assert not Submission.objects.exists()
    assert not Exercise.objects.exists()


def test_a_load_computes_the_facts_of_its_clients_and_touches_no_other(tmp_path: Path, coach: Coach, client: Client):
    other = ClientFactory(lead=coach, key="ana")
    _load_log(tmp_path, coach, other.key)
    before = ClientState.objects.filter(client=other).values().get()

    report = _load_log(tmp_path, coach, client.key)

    assert report.client_ids == {client.pk}
    assert ClientState.objects.get(client=client).last_log_on.isoformat() == "2026-04-14"
    assert ClientState.objects.filter(client=other).values().get() == before


def test_a_file_that_changes_nothing_computes_nothing(tmp_path: Path, coach: Coach, client: Client):
    _load_log(tmp_path, coach, client.key)
    before = ClientState.objects.values().get()

    report = _load_log(tmp_path, coach, client.key)

    assert (report.unchanged, ClientState.objects.values().get()) == (1, before)
