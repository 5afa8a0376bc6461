from __future__ import annotations

from datetime import date
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from coaching.monitoring.models import ClientState
from roster.people.models import Client, Studio

pytestmark = pytest.mark.django_db


def run(*arguments: str) -> str:
    told = StringIO()
    call_command("check_ins", *arguments, stderr=told)
    return told.getvalue()


def test_calls_are_due_from_the_day_that_is_said_until_they_are_put_off(client: Client) -> None:
    Client.objects.update(joined_on=date(2026, 1, 5))

    assert run("--from", "2099-05-01") == "The studio “North Street” has check-in calls from 2099-05-01 on.\n"
    due_on = ClientState.objects.get().check_in_due_on
    assert due_on is not None
    assert due_on >= date(2099, 5, 1)

    assert run("--off") == "The studio “North Street” has no check-in calls.\n"
    assert ClientState.objects.get().check_in_due_on is None


def test_it_wants_one_of_both(studio: Studio) -> None:
    with pytest.raises(CommandError, match="required"):
        run()
    with pytest.raises(CommandError, match="no day such as"):
        run("--from", "soon")
