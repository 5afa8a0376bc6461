from __future__ import annotations

import pytest
from django.db.models import RestrictedError

from roster.logs.models import SetLog, Submission
from roster.people.models import Client, Coach, Studio
from tests.coaching.factories import PlannedExerciseFactory, PlannedSessionFactory, SessionLogFactory, SetLogFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def logged_set(client: Client) -> SetLog:
    session = PlannedSessionFactory(block__client=client)
    planned = PlannedExerciseFactory(session=session)
    log = SessionLogFactory(client=client, planned_session=session)
    return SetLogFactory(session_log=log, exercise=planned.exercise)


def test_a_person_is_erased_with_everything_of_theirs(client: Client, logged_set: SetLog) -> None:
    client.delete()

    assert not SetLog.objects.exists()
    assert not Submission.objects.exists()


def test_a_studio_is_erased_with_everybody_in_it(studio: Studio, logged_set: SetLog) -> None:
    studio.delete()

    assert not Client.objects.exists()
    assert not Coach.objects.exists()


def test_a_submission_or_an_exercise_is_not_lost_under_a_log(logged_set: SetLog) -> None:
    with pytest.raises(RestrictedError):
        logged_set.session_log.submission.delete()
    with pytest.raises(RestrictedError):
        logged_set.exercise.delete()
