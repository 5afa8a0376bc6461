from __future__ import annotations

from datetime import date

from tests.plain_twin.differences import find_differences

WEEK = {"client": "ana", "iso_week": "2026-W02", "due": 3, "dose": 0.5}


def test_equal_tables_have_none_in_whatever_order():
    other = {**WEEK, "iso_week": "2026-W03", "dose": None}

    assert find_differences("weeks", [WEEK, other], [other, {**WEEK, "dose": 0.5 * (1 + 1e-12)}]) == []


def test_rows_missing_and_rows_too_many_are_told():
    other = {**WEEK, "client": "ben"}

    assert find_differences("weeks", [WEEK], [other]) == [
        "weeks ('ana', '2026-W02'): not exported",
        "weeks ('ben', '2026-W02'): exported, not expected",
    ]


def test_a_cell_that_differs_is_told():
    assert find_differences("weeks", [WEEK], [{**WEEK, "dose": 0.6}]) == [
        "weeks ('ana', '2026-W02'): dose is 0.6, expected 0.5"
    ]


def test_unknown_is_not_zero_and_true_is_not_one():
    assert len(find_differences("weeks", [{**WEEK, "dose": None}], [{**WEEK, "dose": 0.0}])) == 1
    assert len(find_differences("weeks", [{**WEEK, "due": True}], [{**WEEK, "due": 1}])) == 1


def test_a_day_is_a_day_and_empty_is_empty_however_held():
    session = {"client": "ana", "block": "Base", "week": 1, "session": "", "suggested_on": date(2026, 1, 5)}

    assert find_differences("sessions", [session], [{**session, "session": None, "suggested_on": "2026-01-05"}]) == []


def test_words_are_not_compared():
    flag = {"client": "ana", "kind": "pain", "subject": "knee", "sentence": None}

    assert find_differences("flags", [flag], [{**flag, "sentence": "Knee pain, 6 of 10"}]) == []
