"""The Turnout board: who showed up, session by session, over twelve weeks."""

from __future__ import annotations

from datetime import date

import pytest
from time_machine import TimeMachineFixture

from coaching.monitoring.models import LogFact, SessionFact, Status
from roster.people.models import Client, Coach, Contact
from tests.coaching.desk.boards import ReadBoard, a_client, a_session, names, row_of
from tests.coaching.factories import (
    MONDAY,
    WEDNESDAY,
    BlockFactory,
    LogFactFactory,
    PlannedSessionFactory,
)

pytestmark = pytest.mark.usefixtures("wednesday")


def test_the_columns_are_the_twelve_iso_weeks_up_to_this_one(coach: Coach, read_board: ReadBoard) -> None:
    a_client(coach, "Ilse Brandt")

    heads = [" ".join(head.text.split()) for head in read_board().select("thead th")]

    assert heads[1] == "W5 26 Jan"
    assert heads[12] == "W16 13 Apr"
    assert heads[13:] == ["4 wk", "12 wk", "Last heard", "Last word"]


def test_a_cell_shows_the_sessions_of_the_week_and_says_them_in_words(coach: Coach, read_board: ReadBoard) -> None:
    client = a_client(coach, "Ilse Brandt")
    a_session(client, date(2026, 4, 6))
    a_session(client, date(2026, 4, 8), Status.MISSED)
    a_session(client, date(2026, 4, 10), Status.MISSED)

    cell = row_of(read_board(), "Ilse Brandt").select("td")[10]

    assert cell.svg["aria-label"] == "week 3 of the block: 1 done, 2 missed"
    assert cell.small.text == "w3"
    assert [title.text for title in cell.select("title")] == [
        "Mon 6 Apr, session 0604: done, 9 of 9 sets",
        "Wed 8 Apr, session 0804: missed, 0 of 9 sets",
        "Fri 10 Apr, session 1004: missed, 0 of 9 sets",
    ]


def test_a_week_in_which_nothing_was_planned_is_a_dash(coach: Coach, read_board: ReadBoard) -> None:
    a_client(coach, "Ilse Brandt")

    cells = row_of(read_board(), "Ilse Brandt").select("td")[:12]

    assert {(cell.text, cell.span["title"]) for cell in cells} == {("–", "nothing planned")}


def test_a_session_beside_the_plan_is_a_plus(coach: Coach, read_board: ReadBoard) -> None:
    client = a_client(coach, "Ilse Brandt")
    LogFactFactory(
        session_log__client=client,
        session_log__performed_on=date(2026, 4, 11),
        standing=LogFact.Standing.EXTRA,
        working_sets=6,
    )

    cell = row_of(read_board(), "Ilse Brandt").select("td")[10]

    assert cell.title.text == "Sat 11 Apr: extra session, 6 sets"
    assert cell.svg["aria-label"] == "1 extra"


def test_the_right_side_tells_turnout_last_heard_and_last_word(coach: Coach, read_board: ReadBoard) -> None:
    client = a_client(
        coach,
        "Ilse Brandt",
        attended_4_weeks=9,
        due_4_weeks=11,
        attended_12_weeks=30,
        due_12_weeks=34,
        last_log_on=date(2026, 4, 6),
    )
    Contact.objects.create(client=client, made_by=coach, how="call", made_on=date(2026, 4, 14))

    cells = [cell.text for cell in row_of(read_board(), "Ilse Brandt").select("td")[12:]]

    assert cells == ["9/11", "30/34", "9 days ago", "yesterday"]


def test_what_is_unknown_is_no_zero(coach: Coach, read_board: ReadBoard) -> None:
    a_client(coach, "Ilse Brandt", last_log_on=None)

    cells = row_of(read_board(), "Ilse Brandt").select("td")[12:]

    assert [cell.text for cell in cells] == ["–", "–", "no log yet", "–"]
    assert [cells[at].span["title"] for at in (0, 1, 3)] == ["nothing due", "nothing due", "no contact kept"]


def test_a_name_leads_to_the_story_as_at_the_day_shown(client_of_coach: Client, read_board: ReadBoard) -> None:
    today, earlier = read_board(), read_board("?as_of=2026-04-01")

    assert row_of(today, "Ilse Brandt").a["href"] == f"/clients/{client_of_coach.public_id}/"
    assert row_of(earlier, "Ilse Brandt").a["href"] == f"/clients/{client_of_coach.public_id}/?as_of=2026-04-01"


def test_an_earlier_day_shows_how_things_stood_then(coach: Coach, read_board: ReadBoard) -> None:
    client = a_client(coach, "Ilse Brandt")
    block = BlockFactory(client=client, starts_on=date(2026, 3, 30), weeks=4)
    PlannedSessionFactory(block=block, week=2, label="A", suggested_on=date(2026, 4, 6))
    board = read_board("?as_of=2026-04-08")

    assert board.select("thead th")[12].contents[0].strip() == "W15"
    assert row_of(board, "Ilse Brandt").select("td")[11].title.text == "Mon 6 Apr, session A: overdue, 0 of 0 sets"


def test_a_row_changes_with_the_facts_of_its_client(
    coach: Coach, read_board: ReadBoard, time_machine: TimeMachineFixture
) -> None:
    client, other = a_client(coach, "Ilse Brandt"), a_client(coach, "Other")
    a_session(client, MONDAY, Status.OVERDUE)
    a_session(other, MONDAY, Status.OVERDUE)
    read_board()

    time_machine.shift(60)
    SessionFact.objects.filter(client=client).update(status=Status.DONE, performed_on=WEDNESDAY, counted_sets=9)
    client.state_of_facts.save()
    board = read_board()

    assert row_of(board, "Ilse Brandt").title.text == "Wed 15 Apr, session 1304: done, 9 of 9 sets"
    assert row_of(board, "Other").title.text == "Mon 13 Apr, session 1304: overdue, 0 of 9 sets"
    assert names(read_board("?show=behind")) == ["Other"]


def test_a_board_of_more_than_three_hundred_has_pages(
    coach: Coach, read_board: ReadBoard, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("coaching.desk.views.turnout.ROWS_A_PAGE", 2)
    for name in ("Anna", "Berta", "Carl"):
        a_client(coach, name)

    first, second = read_board("?sort=name"), read_board("?sort=name&page=2")

    assert (names(first), names(second)) == (["Anna", "Berta"], ["Carl"])
    assert "1 to 2 of 3" in first.select_one(".pages").text


def test_a_name_brings_no_markup_along(coach: Coach, read_board: ReadBoard) -> None:
    a_client(coach, "<b>Ilse</b> & Co")

    assert names(read_board()) == ["<b>Ilse</b> & Co"]


def test_the_board_is_a_table_to_whoever_hears_it(coach: Coach, read_board: ReadBoard) -> None:
    a_client(coach, "Ilse Brandt")
    board = read_board("?sort=turnout")

    assert {cell["role"] for cell in board.select(".board tbody td")} == {"cell"}
    assert [head.text.strip() for head in board.select("th[aria-sort]")] == ["12 wk"]
    assert board.select_one(".mark-legend")["aria-label"] == "What the marks mean"


def test_charts_stay_away_from_the_board(client_of_coach: Client, read_board: ReadBoard) -> None:
    assert not [script for script in read_board().select("script") if "plotly" in script.get("src", "")]
