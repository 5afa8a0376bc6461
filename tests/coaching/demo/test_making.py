"""A demo is made once, is the same on a second run, and longer on a later day."""

from __future__ import annotations

import shutil
from datetime import date, timedelta
from pathlib import Path

import pytest

from coaching.demo.cast import STUDIO_NAME
from coaching.demo.making import DemoRefused, make_demo
from coaching.demo.memory import DemoMemory
from roster.blocks.models import Exercise, PlannedExercise
from roster.logs.models import SessionLog, SetLog, Submission
from roster.people.models import Client, Coach, Contact, Limitation, Note, Promise
from tests.coaching.demo.conftest import SMALL, TODAY

KEPT = (Client, Coach, Contact, Exercise, Limitation, Note, PlannedExercise, Promise, SessionLog, SetLog, Submission)

pytestmark = pytest.mark.django_db


def _make(directory: Path, today: date = TODAY, wanted: DemoMemory = SMALL) -> list[str]:
    said: list[str] = []
    make_demo(wanted, directory, today=today, say=said.append)
    return said


def _counts() -> dict[str, int]:
    return {model.__name__: model.objects.count() for model in KEPT}


def test_the_same_day_again_changes_nothing(tmp_path: Path) -> None:
    _make(tmp_path)
    first = _counts()

    said = _make(tmp_path)

    assert _counts() == first
    assert said == []


def test_a_run_that_was_cut_off_is_made_good_by_the_next(tmp_path: Path) -> None:
    _make(tmp_path)
    first = _counts()
    SessionLog.objects.all().delete()
    Submission.objects.all().delete()
    SMALL.keep(tmp_path)

    _make(tmp_path)

    assert _counts() == first


def test_a_later_day_adds_what_has_happened_and_corrects_nothing(tmp_path: Path) -> None:
    _make(tmp_path)
    first = _counts()
    of_studio = SessionLog.objects.filter(client__studio__name=STUDIO_NAME).count()

    said = _make(tmp_path, TODAY + timedelta(9))

    assert SessionLog.objects.count() > first["SessionLog"]
    assert f"0 changed, {of_studio} unchanged" in said[-1]
    assert Submission.objects.filter(revision__gt=1).count() == 0
    assert Contact.objects.count() == first["Contact"]


def test_another_roster_over_the_first_is_refused(tmp_path: Path) -> None:
    _make(tmp_path)

    with pytest.raises(DemoRefused, match="8 clients, 12 weeks and seed 1"):
        _make(tmp_path, wanted=DemoMemory(1, 9, 12, staged_for=TODAY))


def test_with_its_notes_lost_the_record_stays_as_it_is(tmp_path: Path) -> None:
    _make(tmp_path)
    first = _counts()
    shutil.rmtree(tmp_path)

    _make(tmp_path, TODAY + timedelta(9))

    assert _counts() == first
