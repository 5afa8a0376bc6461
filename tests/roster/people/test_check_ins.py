"""What the database itself holds check-in calls to."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from django.db import IntegrityError, transaction

from roster.people.models import CheckIn, CheckInAnswer, Client, Coach, Promise

pytestmark = pytest.mark.django_db
APRIL_13 = date(2026, 4, 13)
HELD = {"due_on": APRIL_13, "held_on": APRIL_13}


def refused(constraint: str, client: Client, **fields: Any) -> bool:
    with pytest.raises(IntegrityError, match=constraint), transaction.atomic():
        CheckIn.objects.create(client=client, **fields)
    return True


def test_a_client_has_one_call_to_come_and_any_number_that_were_held(client: Client) -> None:
    CheckIn.objects.create(client=client)
    CheckIn.objects.create(client=client, **HELD)
    CheckIn.objects.create(client=client, due_on=APRIL_13, held_on=APRIL_13 + timedelta(days=28))

    with pytest.raises(IntegrityError), transaction.atomic():
        CheckIn.objects.create(client=client)
    with pytest.raises(IntegrityError), transaction.atomic():
        CheckIn.objects.create(client=client, **HELD)
    assert CheckIn.objects.to_be_held().count() == 1
    assert CheckIn.objects.held().count() == 2


def test_a_held_call_keeps_the_day_it_was_due(client: Client) -> None:
    assert refused("check_in_keeps_its_due_day_once_held", client, held_on=APRIL_13)
    assert refused("check_in_keeps_its_due_day_once_held", client, due_on=APRIL_13)


def test_nothing_comes_of_a_call_before_it_is_held(client: Client) -> None:
    promise = Promise.objects.create(client=client, text="a clip by Friday", made_on=APRIL_13)

    assert refused("check_in_to_come_has_no_outcome", client, outcome="went well")
    assert refused("check_in_to_come_has_no_outcome", client, promise=promise)


def test_the_next_call_comes_after_this_one(client: Client) -> None:
    assert refused("next_check_in_comes_after_this_one", client, **HELD, next_on=APRIL_13)


def test_calls_and_answers_go_with_their_client_and_outlive_who_held_them(client: Client, coach: Coach) -> None:
    colleague = Coach.objects.create(email="gone@example.org", studio=client.studio)
    call = CheckIn.objects.create(client=client, held_by=colleague, **HELD)
    CheckInAnswer.objects.create(check_in=call, question="well", text="stairs", noted_by=colleague)

    colleague.delete()
    assert CheckInAnswer.objects.visible_to(coach).get().noted_by is None

    client.delete()
    assert not CheckIn.objects.exists()
    assert not CheckInAnswer.objects.exists()


def test_a_colleague_sees_none_of_them(client: Client, outsider: Coach) -> None:
    call = CheckIn.objects.create(client=client, **HELD)
    CheckInAnswer.objects.create(check_in=call, question="well", text="stairs")

    assert not CheckIn.objects.visible_to(outsider).exists()
    assert not CheckInAnswer.objects.visible_to(outsider).exists()
