from __future__ import annotations

from tests.plain_twin.client_day import ClientDay
from tests.plain_twin.small_files import asked, done, look, told

MONDAY_AND_FRIDAY = [
    asked("Squat", day="mon", session="A"),
    asked("Row", day="mon", session="A"),
    asked("Squat", day="fri", session="B"),
    asked("Press", day="fri", session="B"),
]


def links_of(at: ClientDay) -> list[tuple[str | None, str]]:
    return [(link.session.label if link.session else None, link.standing) for link in at.links]


def test_rows_of_equal_client_day_names_and_submission_are_one_log():
    at = look(MONDAY_AND_FRIDAY, done("2026-01-05", {"Squat": "8@20", "Row": "8@20"}), on="2026-01-05")

    assert [len(link.log.sets) for link in at.links] == [2]


def test_another_submission_makes_another_log():
    at = look(MONDAY_AND_FRIDAY, done("2026-01-05"), done("2026-01-05", submission="x"), on="2026-01-05")

    assert len(at.links) == 2


def test_a_named_session_is_the_log_s_session_whenever_it_was_performed():
    at = look(MONDAY_AND_FRIDAY, done("2026-01-20", names="1 B"), on="2026-01-20")

    assert links_of(at) == [("B", "first")]


def test_names_compare_trimmed_and_case_folded():
    at = look(MONDAY_AND_FRIDAY, done("2026-01-05", block=" BASE ", session="a"), on="2026-01-05")

    assert links_of(at) == [("A", "first")]


def test_without_names_the_session_sharing_most_exercises_is_found():
    log = done("2026-01-05", {"Squat": "8@20", "Press": "8@20"}, names="")

    at = look(MONDAY_AND_FRIDAY, log, on="2026-01-05")

    assert links_of(at) == [("B", "first")]


def test_warm_ups_count_as_shared():
    log = done("2026-01-05", {"Squat": "8@20", "Press": "8@10*"}, names="")

    at = look(MONDAY_AND_FRIDAY, log, on="2026-01-05")

    assert links_of(at) == [("B", "first")]


def test_a_tie_goes_to_the_nearest_suggested_day():
    at = look(MONDAY_AND_FRIDAY, done("2026-01-08", names=""), on="2026-01-08")

    assert links_of(at) == [("B", "first")]


def test_a_tie_of_equally_near_days_goes_to_the_earlier():
    at = look(MONDAY_AND_FRIDAY, done("2026-01-07", names=""), on="2026-01-07")

    assert links_of(at) == [("A", "first")]


def test_only_the_week_of_the_log_is_searched():
    at = look(MONDAY_AND_FRIDAY, done("2026-01-12", names=""), on="2026-01-12")

    assert links_of(at) == [(None, "extra")]


def test_sharing_no_exercise_makes_an_extra_session():
    at = look(MONDAY_AND_FRIDAY, done("2026-01-05", {"Swim": "20"}, names=""), on="2026-01-05")

    assert links_of(at) == [(None, "extra")]


def test_trained_without_details_and_without_names_is_an_extra_session():
    at = look(MONDAY_AND_FRIDAY, told("2026-01-05", names=""), on="2026-01-05")

    assert links_of(at) == [(None, "extra")]


def test_of_two_logs_the_first_performed_is_the_session_s_log_in_whatever_order_they_were_filed():
    at = look(MONDAY_AND_FRIDAY, done("2026-01-07"), done("2026-01-05"), on="2026-01-07")

    assert [(link.log.performed_on.day, link.standing) for link in at.links] == [(5, "first"), (7, "second")]


def test_on_one_day_the_named_log_goes_before_the_found_one():
    at = look(MONDAY_AND_FRIDAY, done("2026-01-05", names=""), done("2026-01-05"), on="2026-01-05")

    assert [(link.log.names is not None, link.standing) for link in at.links] == [(True, "first"), (False, "second")]


def test_logs_after_the_day_are_not_known_yet():
    at = look(MONDAY_AND_FRIDAY, done("2026-01-05"), done("2026-01-09", names="1 B"), on="2026-01-08")

    assert links_of(at) == [("A", "first")]
