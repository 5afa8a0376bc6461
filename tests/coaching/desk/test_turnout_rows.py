"""Whose rows the Turnout board shows, and in which order."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from coaching.monitoring.models import Kind, Status, Urgency
from roster.people.models import Client, Coach, Pause
from tests.coaching.desk.boards import ReadBoard, a_client, a_session, names, row_of
from tests.coaching.factories import (
    MONDAY,
    WEDNESDAY,
    FlagFactory,
)

pytestmark = pytest.mark.usefixtures("wednesday")


def test_who_needs_the_coach_most_comes_first_then_who_comes_least(coach: Coach, read_board: ReadBoard) -> None:
    a_client(coach, "Fine and always there", attended_12_weeks=36, due_12_weeks=36)
    a_client(coach, "Fine and seldom there", attended_12_weeks=12, due_12_weeks=36)
    FlagFactory(client=a_client(coach, "Watched"), urgency=Urgency.WATCH)
    FlagFactory(client=a_client(coach, "In pain"), kind=Kind.PAIN, urgency=Urgency.NOW)

    board = read_board()

    assert names(board) == ["In pain", "Watched", "Fine and seldom there", "Fine and always there"]
    assert row_of(board, "In pain").small.text == "now pain"


def test_a_finding_put_aside_is_no_need_for_now(coach: Coach, read_board: ReadBoard) -> None:
    FlagFactory(client=a_client(coach, "Ilse Brandt"), put_aside_until=WEDNESDAY + timedelta(days=1))

    row = row_of(read_board(), "Ilse Brandt")

    assert row.th.small is None


@pytest.mark.parametrize(
    ("sort", "order"),
    [
        ("name", ["Anna", "Berta", "Carl"]),
        ("turnout", ["Carl", "Anna", "Berta"]),
        ("heard", ["Berta", "Carl", "Anna"]),
        ("no such order", ["Carl", "Anna", "Berta"]),
    ],
)
def test_rows_are_sorted_as_asked(sort: str, order: list[str], coach: Coach, read_board: ReadBoard) -> None:
    a_client(coach, "Carl", attended_12_weeks=10, due_12_weeks=30, last_log_on=date(2026, 4, 10))
    a_client(coach, "Anna", attended_12_weeks=20, due_12_weeks=30, last_log_on=date(2026, 4, 14))
    a_client(coach, "Berta", last_log_on=None)

    assert names(read_board(f"?sort={sort}")) == order


def test_behind_this_week_are_those_with_a_session_overdue_in_it(coach: Coach, read_board: ReadBoard) -> None:
    a_session(a_client(coach, "Behind"), MONDAY, Status.OVERDUE)
    a_session(a_client(coach, "Sends once a week"), MONDAY, Status.AWAITED)
    a_session(a_client(coach, "Missed last week"), MONDAY - timedelta(days=3), Status.MISSED)

    assert names(read_board("?show=behind")) == ["Behind"]


def test_quiet_are_those_not_heard_of_for_fourteen_days(coach: Coach, read_board: ReadBoard) -> None:
    a_client(coach, "Thirteen days", last_log_on=WEDNESDAY - timedelta(days=13))
    a_client(coach, "Fourteen days", last_log_on=WEDNESDAY - timedelta(days=14))
    a_client(coach, "Joined on Monday", last_log_on=None, joined_on=MONDAY)
    a_client(coach, "Never heard of", last_log_on=None)

    assert sorted(names(read_board("?show=quiet"))) == ["Fourteen days", "Never heard of"]


def test_paused_are_those_in_a_pause_and_those_set_to_paused(coach: Coach, read_board: ReadBoard) -> None:
    away = a_client(coach, "Away till Sunday", last_log_on=None)
    Pause.objects.create(client=away, from_on=MONDAY, until_on=date(2026, 4, 19))
    back = a_client(coach, "Back again")
    Pause.objects.create(client=back, from_on=date(2026, 3, 1), until_on=date(2026, 3, 8))
    a_client(coach, "Paused", state=Client.State.PAUSED)

    assert sorted(names(read_board("?show=paused"))) == ["Away till Sunday", "Paused"]
    assert names(read_board("?show=quiet")) == []
    assert sorted(names(read_board())) == ["Away till Sunday", "Back again"]


def test_those_who_ended_are_shown_when_asked_for(coach: Coach, read_board: ReadBoard) -> None:
    a_client(coach, "Ilse Brandt")
    a_client(coach, "Gone", state=Client.State.ENDED, ended_on=date(2026, 4, 1))

    assert names(read_board()) == ["Ilse Brandt"]
    assert names(read_board("?show=ended")) == ["Gone"]


def test_every_choice_says_how_many_it_shows(coach: Coach, read_board: ReadBoard) -> None:
    a_client(coach, "Ilse Brandt")
    a_client(coach, "Quiet", last_log_on=date(2026, 3, 1))
    a_client(coach, "Paused", state=Client.State.PAUSED)
    a_client(coach, "Gone", state=Client.State.ENDED, ended_on=date(2026, 4, 1))

    choices = " ".join(read_board().select_one(".page-head nav").text.split())

    assert choices == "Active 2 Behind this week 0 Quiet 1 Paused 1 Ended 1"


@pytest.mark.parametrize(
    ("show", "sentence"),
    [
        ("active", "No active clients yet."),
        ("behind", "Nobody is behind this week"),
        ("quiet", "Nobody is quiet"),
        ("paused", "Nobody is on a pause."),
        ("ended", "Nobody has ended their coaching."),
    ],
)
def test_an_empty_board_says_why_and_what_next(show: str, sentence: str, read_board: ReadBoard) -> None:
    board = read_board(f"?show={show}")

    assert sentence in board.select_one(".empty").text
    assert board.select_one(".board") is None


def test_an_owner_sees_their_own_and_the_whole_studio_when_asked(
    coach: Coach, owner: Coach, read_board: ReadBoard
) -> None:
    a_client(coach, "Of the coach")
    a_client(owner, "Of the owner")

    assert names(read_board(by=owner)) == ["Of the owner"]
    assert names(read_board("?whose=all", by=owner)) == ["Of the coach", "Of the owner"]


def test_an_owner_who_leads_nobody_is_led_to_the_whole_studio(
    coach: Coach, owner: Coach, read_board: ReadBoard
) -> None:
    a_client(coach, "Of the coach")

    empty = read_board(by=owner).select_one(".empty")

    assert "You lead no active client yourself." in empty.text
    assert empty.a["href"] == "?whose=all"


def test_nobody_sees_another_studio_or_a_colleagues_client(
    coach: Coach, outsider: Coach, assistant: Coach, read_board: ReadBoard
) -> None:
    a_client(coach, "Not assigned")

    assert names(read_board("?whose=all", by=outsider)) == []
    assert names(read_board("?whose=all", by=assistant)) == ["Ilse Brandt"]
