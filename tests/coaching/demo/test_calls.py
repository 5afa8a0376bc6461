"""The demo has check-in calls: some owed today, others held, and each was owed until the day it was held."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from coaching.demo.calls import FORGOTTEN
from coaching.demo.cast import STUDIO_NAME
from coaching.monitoring.export import export_rows
from coaching.monitoring.models import Flag
from roster.people.models import CheckIn, Client, Studio
from tests.coaching.demo.conftest import TODAY

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("small_demo")]


def owed_on(day: date) -> set[str]:
    rows = export_rows("flags", Studio.objects.get(name=STUDIO_NAME), as_of=day)
    return {str(row["client"]) for row in rows if row["kind"] == "check_in_due"}


def test_a_call_is_overdue_today_and_others_are_owed_but_not_all() -> None:
    active = Client.objects.filter(studio__name=STUDIO_NAME).active().order_by("name", "pk")
    forgotten = active[FORGOTTEN]

    assert forgotten.key in owed_on(TODAY)
    assert 2 <= len(owed_on(TODAY)) <= len(active) // 2


def test_a_call_was_owed_until_the_day_it_was_held() -> None:
    never_paused = CheckIn.objects.held().filter(client__studio__name=STUDIO_NAME, client__pauses=None)
    call = never_paused.latest("held_on")

    assert call.client.key in owed_on(call.held_on - timedelta(days=1))
    assert call.client.key not in owed_on(call.held_on)


def test_held_calls_say_what_came_of_them_and_lie_behind() -> None:
    held = CheckIn.objects.held()

    assert held
    assert all(call.outcome and call.held_on <= TODAY and call.answers.count() == 3 for call in held)


def test_findings_are_stored_with_the_calls() -> None:
    assert Flag.objects.standing().filter(kind="check_in_due").exists()
