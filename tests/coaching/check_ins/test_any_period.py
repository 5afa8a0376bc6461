"""Whatever days are asked for, as at whatever day: the parts of a pack agree with one another."""

from __future__ import annotations

from datetime import timedelta
from random import Random

import pytest

from coaching.check_ins.composing import compose_many
from coaching.check_ins.content import Change, Figure, FigureKey, Pack, Paper, Part
from coaching.check_ins.periods import days_period
from tests.coaching.check_ins.rosters import AFTER_IT_ALL, clients_of
from tests.coaching.monitoring.conftest import load_roster as load_roster
from tests.rosters.generate import FIRST_MONDAY

pytestmark = pytest.mark.django_db
WEEKS = 12


@pytest.fixture
def many_packs(coach, load_roster) -> list[Pack]:
    """Of thirty random spans, from a day to half a year, each as at a random day around it."""
    load_roster(701, clients=5, weeks=WEEKS)
    random, clients, found = Random(7), clients_of(coach), []
    for _ in range(30):
        first = FIRST_MONDAY + timedelta(days=random.randint(-40, 7 * WEEKS + 20))
        period = days_period(first, first + timedelta(days=random.choice([0, 1, 6, 13, 29, 30, 60, 180])))
        as_of = first + timedelta(days=random.randint(-3, 70))
        found += compose_many(clients, period, now=AFTER_IT_ALL, as_of=random.choice([None, as_of]))
    return found


def figure(pack: Pack, key: FigureKey) -> Figure:
    return next(one for one in pack.figures if one.key is key)


def test_the_table_is_the_sum_of_the_weeks(many_packs):
    told = [pack for pack in many_packs if pack.figures]
    for pack in told:
        due, attended = (sum(getattr(week, name) for week in pack.weeks) for name in ("due", "attended"))
        assert figure(pack, FigureKey.TURNOUT).now_text == (f"{attended} of {due}" if due else "")
        lifted = [week.tonnage_kg for week in pack.weeks if week.tonnage_kg is not None]
        assert (figure(pack, FigureKey.TONNAGE).now is None) == (not lifted)
    assert len(told) > 60


def test_the_marks_of_a_week_are_its_sessions(many_packs):
    for week in (week for pack in many_packs for week in pack.weeks):
        attended = [mark for mark in week.marks if mark.status in ("done", "partial", "told")]
        missed = [mark for mark in week.marks if mark.status in ("missed", "overdue")]
        assert (week.attended, week.due) == (len(attended), len(attended) + len(missed))
        assert week.marks == tuple(sorted(week.marks, key=lambda mark: mark.suggested_on))


def test_every_key_of_the_table_is_there_once_in_its_order_and_best_sets_by_exercise(many_packs):
    for pack in many_packs:
        keys = [one.key for one in pack.figures]
        assert not keys or list(dict.fromkeys(keys)) == list(FigureKey)
        assert len({(one.key, one.name) for one in pack.figures}) == len(keys)


def test_unknown_has_neither_number_nor_text(many_packs):
    for one in (one for pack in many_packs for one in pack.figures):
        if one.key is not FigureKey.BEST_SETS:
            assert (one.now is None) == (not one.now_text)
            assert (one.before is None) == (not one.before_text)
            if one.now is None or one.before is None:
                assert (one.change, one.change_text) == (Change.UNKNOWN, "")


def test_what_was_found_was_found_by_the_period_s_day(many_packs):
    for pack in many_packs:
        last = min(pack.period.last, pack.as_of)
        for one in pack.found:
            assert one.opened_on <= last
            assert one.ended_on is None or pack.period.first < one.ended_on <= last


def test_no_log_after_the_day_is_told(many_packs):
    for pack in many_packs:
        performed = [mark.performed_on for week in pack.weeks for mark in week.marks if mark.performed_on]
        assert all(day <= pack.as_of for day in performed)


def test_theirs_has_no_part_that_is_the_coach_s(many_packs):
    inner = {Part.FOUND, Part.CONTACTS, Part.ANSWERS, Part.QUESTIONS}

    assert all(not inner & set(pack.parts_of(Paper.THEIRS)) for pack in many_packs)
