"""What is in a demo once it is made."""

from __future__ import annotations

import pytest

from coaching.demo.cast import ASSISTANT, COACH, OTHER_STUDIO_NAME, OUTSIDER, OWNER, STUDIO_NAME
from coaching.monitoring.models import ClientState, SessionFact
from roster.blocks.models import Exercise
from roster.logs.models import SessionLog
from roster.people.models import Client, Coach, Contact, Limitation, Promise, Studio
from tests.coaching.demo.conftest import TODAY

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("small_demo")]


def test_the_studio_has_people_with_plans_logs_and_facts() -> None:
    active = Client.objects.filter(studio__name=STUDIO_NAME).active()

    assert active.count() == 8
    assert SessionLog.objects.filter(client__in=active).count() > 100
    assert SessionFact.objects.filter(client__in=active, status="done").count() > 100
    assert ClientState.objects.filter(client__in=active).count() == 8


def test_it_says_what_was_loaded(small_demo: list[str]) -> None:
    assert "Loaded clients: 8 created, 0 changed, 0 unchanged." in small_demo


def test_everybody_signs_in_and_sees_their_own() -> None:
    coaches = {person: Coach.objects.get(email=person.email) for person in (OWNER, COACH, ASSISTANT, OUTSIDER)}

    seen = {person: set(Client.objects.visible_to(coach)) for person, coach in coaches.items()}

    assert all(coach.check_password(person.password) for person, coach in coaches.items())
    assert seen[OWNER] == set(Client.objects.filter(studio__name=STUDIO_NAME))
    assert set() < seen[COACH] < seen[OWNER]
    assert set() < seen[ASSISTANT] < seen[OWNER]
    assert seen[OUTSIDER] == set(Client.objects.filter(studio__name=OTHER_STUDIO_NAME))


def test_the_studios_are_two() -> None:
    assert set(Studio.objects.values_list("name", flat=True)) == {STUDIO_NAME, OTHER_STUDIO_NAME}


def test_somebody_has_left() -> None:
    ended = Client.objects.get(studio__name=STUDIO_NAME, state=Client.State.ENDED)

    assert ended.ended_on is not None
    assert ended.ended_on < TODAY


def test_words_are_about_what_goes_on_and_never_of_tomorrow() -> None:
    hurting = Limitation.objects.get(note__startswith="Hurt in training")

    assert Promise.objects.filter(client=hurting.client, text__startswith="We look at it").exists()
    assert max(contact.made_on for contact in Contact.objects.all()) <= TODAY
    assert all(promise.due_on is None or promise.due_on >= promise.made_on for promise in Promise.objects.all())


def test_exercises_know_what_they_load() -> None:
    squat = Exercise.objects.get(studio__name=STUDIO_NAME, name="goblet squat")

    assert (squat.regions, squat.pattern, squat.implement) == (["knee", "hip"], "squat", "dumbbell")
