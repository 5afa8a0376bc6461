"""The Turnout board: who showed up, session by session, over twelve weeks."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

import pytest
from bs4 import BeautifulSoup
from bs4.element import Tag
from django.test import Client as Browser
from time_machine import TimeMachineFixture

from coaching.monitoring.models import Kind, LogFact, SessionFact, Status, Urgency
from roster.people.models import Client, Coach, Contact, Pause
from tests.coaching.factories import (
    MONDAY,
    WEDNESDAY,
    BlockFactory,
    ClientFactory,
    ClientStateFactory,
    FlagFactory,
    LogFactFactory,
    PlannedSessionFactory,
    SessionFactFactory,
)

BrowserOf = Callable[[Coach], Browser]
pytestmark = pytest.mark.usefixtures("wednesday")


@pytest.fixture
def read_board(coach: Coach, browser_of: BrowserOf) -> Callable[[str], BeautifulSoup]:
    def read(query: str = "", by: Coach = coach) -> BeautifulSoup:
        answer = browser_of(by).get(f"/turnout/{query}")
        assert answer.status_code == 200
        return BeautifulSoup(answer.content, "html.parser")

    return read


ReadBoard = Callable[..., BeautifulSoup]


def a_client(coach: Coach, name: str, **more: object) -> Client:
    """With facts that stand as at Wednesday."""
    facts = {key: more.pop(key) for key in list(more) if key.startswith(("last_log", "attended", "due"))}
    client = ClientFactory(lead=coach, name=name, **more)
    ClientStateFactory(client=client, **{"last_log_on": WEDNESDAY, **facts})
    return client


def a_session(client: Client, day: date, status: str = Status.DONE) -> None:
    """A session of the third week of a block."""
    monday = day - timedelta(days=day.weekday())
    block = client.blocks.first() or BlockFactory(client=client, starts_on=MONDAY - timedelta(weeks=12), weeks=16)
    planned = PlannedSessionFactory(block=block, week=3, label=f"{day:%d%m}", suggested_on=day)
    undone = {} if status == Status.DONE else {"performed_on": None, "set_completion": None, "counted_sets": 0}
    SessionFactFactory(planned_session=planned, week_start=monday, status=status, **undone)


def names(board: BeautifulSoup) -> list[str]:
    return [row.a.text for row in board.select(".board tbody tr")]


def row_of(board: BeautifulSoup, name: str) -> Tag:
    return next(row for row in board.select(".board tbody tr") if row.a.text == name)


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
