from __future__ import annotations

import pytest
from django.core.management import call_command

from coaching.management.studios import Refused
from coaching.monitoring.models import ClientState
from roster.people.models import Client, Coach
from tests.coaching.factories import BlockFactory, ClientFactory, PlannedExerciseFactory, PlannedSessionFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def two_studios(client: Client, outsider: Coach) -> list[Client]:
    """A client with a plan in each of two studios."""
    people = [client, ClientFactory(studio=outsider.studio, lead=outsider, key="cleo", name="Cleo")]
    for person in people:
        session = PlannedSessionFactory(block=BlockFactory(client=person))
        PlannedExerciseFactory(session=session)
    return people


def test_an_export_without_a_studio_holds_everybody(two_studios: list[Client], capsys: pytest.CaptureFixture[str]):
    call_command("export", "sessions")

    lines = capsys.readouterr().out.splitlines()
    assert {line.split(",")[0] for line in lines[1:]} == {"bo", "cleo"}


def test_an_export_of_one_client_finds_their_studio(two_studios: list[Client], capsys: pytest.CaptureFixture[str]):
    call_command("export", "sessions", client="CLEO")

    assert {line.split(",")[0] for line in capsys.readouterr().out.splitlines()[1:]} == {"cleo"}


def test_a_key_of_two_studios_is_asked_about(two_studios: list[Client], outsider: Coach):
    ClientFactory(studio=outsider.studio, lead=outsider, key="bo", name="Another Bo")

    with pytest.raises(Refused, match="several studios have a client “bo”: say which with --studio"):
        call_command("export", "sessions", client="bo")


def test_reassess_without_a_studio_computes_everybody(two_studios: list[Client]):
    call_command("reassess", "--as-of", "2026-04-15")

    assert set(ClientState.objects.values_list("client_id", flat=True)) == {client.pk for client in two_studios}
