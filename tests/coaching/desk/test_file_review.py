"""A file in the browser: looked through, mended or left out, loaded once, undone."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
import xlsxwriter
from django.db import connection
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from coaching.loads import reviewing
from coaching.loads.models import FileInReview, Load
from roster.logs.models import SessionLog, SetLog
from roster.people.models import Client, Coach
from tests.coaching.desk.handed_in import GOOD, HEADER, confirm, hand_in, said, send, the_file, with_faults
from tests.coaching.desk.pages import page_of

pytestmark = pytest.mark.usefixtures("wednesday")


def test_a_good_file_says_what_loading_does_and_does_nothing_yet(desk: Browser) -> None:
    answer = hand_in(desk, HEADER + "".join(GOOD))

    assert "6 rows, all good. Loading makes 2 new, changes 0 and leaves 0 as before." in said(answer)
    assert "exercise “Row” was not known and is made" in said(answer)
    assert not SessionLog.objects.exists()


def test_a_bad_cell_stands_marked_among_the_good_rows_with_its_reason(desk: Browser) -> None:
    answer = hand_in(desk, with_faults((4, "bo,2026-04-13,Row,3,eight,20,\n")))

    page = page_of(answer)
    assert "1 fault in 1 row of 6; the others are good." in said(answer)
    assert [cell.get_text(" ", strip=True) for cell in page.select("td.faulty")] == ["fault eight"]
    assert "“eight” is none of 8, 8 each, 30 s" in page.find("label", {"for": "cell-4-reps"}).get_text(" ", strip=True)
    assert [body["id"] for body in page.select(".rows tbody")] == ["row-3", "row-4", "row-5"]
    assert not page.select(".confirm")


def test_a_fault_that_speaks_of_another_row_stands_at_both(desk: Browser) -> None:
    answer = hand_in(desk, with_faults((3, "bo,2026-04-13,Row,1,8,20,\n")))

    page = page_of(answer)
    assert "of “Row” is in row 2 already" in page.select_one("#row-3").get_text(" ")
    assert "row 3, set: “1” of “Row” is in row 2 already" in page.select_one("#row-2").get_text(" ", strip=True)


def test_a_mended_cell_makes_the_file_good_and_is_told_after_loading(desk: Browser) -> None:
    hand_in(desk, with_faults((4, "bo,2026-04-13,Row,3,eight,20,\n")))

    mended = send(desk, "mend", **{"cell-4-reps": "8", "show": "faults", "page": "1"})
    loaded = confirm(desk)

    assert "6 rows, all good." in said(mended)
    assert "came as “eight”" in said(mended)
    assert "row 4, reps: “eight” → “8”" in said(loaded)
    assert SetLog.objects.count() == 6


def test_a_mend_that_makes_another_fault_is_told_with_the_whole_check(desk: Browser) -> None:
    hand_in(desk, with_faults((4, "bo,2026-04-13,Row,3,eight,20,\n")))

    answer = send(desk, "mend", **{"cell-4-reps": "8", "cell-4-client": "nobody"})

    assert "“nobody” is the key of no client" in said(answer)


def test_a_cell_goes_back_to_how_it_came(desk: Browser) -> None:
    hand_in(desk, with_faults((4, "bo,2026-04-13,Row,3,eight,20,\n")))
    send(desk, "mend", **{"cell-4-reps": "8"})

    send(desk, "mend", **{"cell-4-reps": "eight"})

    assert (the_file().mends, the_file().faults_total) == ({}, 1)


def test_leaving_a_row_out_of_a_session_is_said_clearly(desk: Browser) -> None:
    page = page_of(hand_in(desk, with_faults((2, "bo,2026-04-13,Row,1,eight,20,3\n"))))
    row = page.select_one("#row-2").get_text(" ", strip=True)

    left = send(desk, "mend", leave_out="2")
    loaded = confirm(desk)

    assert "Leave row 2, bo, 2026-04-13, Row out" in row
    assert "this one is recorded from its other 2 rows alone, and without what this row tells of it: pain 3" in row
    assert "5 rows, all good." in said(left)
    assert "1 row left out." in said(left)
    assert "row 2: bo, 2026-04-13, Row, 1, eight, 20, 3" in said(loaded)
    assert SetLog.objects.count() == 5


def test_a_row_that_was_left_out_is_put_back(desk: Browser) -> None:
    hand_in(desk, HEADER + "".join(GOOD))
    send(desk, "mend", leave_out="2")

    answer = send(desk, "mend", put_back="2")

    assert "6 rows, all good." in said(answer)


def test_a_row_whose_cells_do_not_fit_the_header_can_be_left_out(desk: Browser) -> None:
    first = hand_in(desk, with_faults((4, "bo,2026-04-13\n")))

    second = send(desk, "mend", leave_out="4")

    assert "has 2 cells under a header of 7" in said(first)
    assert "5 rows, all good." in said(second)


def test_with_every_row_left_out_there_is_nothing_to_load(desk: Browser) -> None:
    hand_in(desk, HEADER + GOOD[0])

    answer = send(desk, "mend", leave_out="2")

    assert "every row is left out" in said(answer)
    assert not the_file().is_ready


def test_a_file_is_loaded_once_however_often_it_is_confirmed(desk: Browser) -> None:
    hand_in(desk, HEADER + "".join(GOOD))
    version = the_file().version

    answers = [send(desk, "confirm", version=version) for _ in range(2)]

    assert {answer.redirect_chain[-1][0] for answer in answers} == {f"/loads/{Load.objects.get().public_id}/"}
    assert (Load.objects.get().door, Load.objects.get().created, SessionLog.objects.count()) == ("browser", 2, 2)


def test_a_file_that_was_mended_in_another_tab_is_looked_at_again(desk: Browser) -> None:
    hand_in(desk, HEADER + "".join(GOOD))
    version = the_file().version
    send(desk, "mend", leave_out="2")

    answer = send(desk, "confirm", version=version)

    assert "no longer as it was when you looked" in said(answer)
    assert not Load.objects.exists()


def test_when_the_record_changed_meanwhile_loading_asks_again(desk: Browser, coach: Coach) -> None:
    hand_in(desk, HEADER + "".join(GOOD))
    Client.objects.filter(key="bo").update(key="other", key_folded="other")

    answer = confirm(desk)

    assert "no longer as it was when you looked" in said(answer)
    assert "6 faults in 6 rows" in said(answer)
    assert not SessionLog.objects.exists()


def test_a_correction_is_named_before_it_is_made(desk: Browser) -> None:
    hand_in(desk, HEADER + "".join(GOOD))
    confirm(desk)

    answer = hand_in(desk, with_faults((2, "bo,2026-04-13,Row,1,9,20,\n")))

    assert "Loading makes 0 new, changes 1 and leaves 1 as before." in said(answer)
    assert "bo, 2026-04-13: Row set 1: 8 x 20 kg → 9 x 20 kg" in said(answer)


def test_after_another_load_a_waiting_file_offers_to_be_checked_again(desk: Browser) -> None:
    new = "client,performed_on,exercise,reps\ncy,2026-04-13,Row,8\n"
    hand_in(desk, new, "client,joined_on\ncy,2026-01-01\n")
    logs, people = FileInReview.objects.order_by("kind").reverse()[0], FileInReview.objects.get(kind="clients")
    desk.post(f"/files/{people.public_id}/confirm/", {"version": people.version})

    FileInReview.objects.update(checked_at=timezone.now() - timedelta(hours=1))
    behind = desk.get(f"/files/{logs.public_id}/")
    again = desk.post(f"/files/{logs.public_id}/check/", follow=True)

    assert "Something was loaded or undone since this file was checked." in said(behind)
    assert "1 row, all good." in said(again)


def test_a_load_is_undone_after_a_look_at_what_goes(desk: Browser) -> None:
    hand_in(desk, HEADER + "".join(GOOD))
    confirm(desk)
    load = Load.objects.get()

    plan = desk.get(f"/loads/{load.public_id}/undo/")
    answer = desk.post(f"/loads/{load.public_id}/undo/now/", follow=True)

    assert "2 session logs will be withdrawn: kept as sent, and out of every figure" in said(plan)
    assert "1 exercise that this load made will be gone" in said(plan)
    assert "is undone: the record stands as if it had never been loaded." in said(answer)
    assert not SessionLog.objects.exists()


def test_an_undo_that_is_sent_twice_is_done_once(desk: Browser) -> None:
    hand_in(desk, HEADER + "".join(GOOD))
    confirm(desk)
    address = f"/loads/{Load.objects.get().public_id}/undo/now/"

    answers = [desk.post(address, follow=True) for _ in range(2)]

    assert [answer.status_code for answer in answers] == [200, 200]
    assert "Undone on 15 April 2026" in said(answers[1])


def test_what_is_in_the_way_of_an_undo_is_named_with_its_load(desk: Browser) -> None:
    hand_in(desk, "client,joined_on\ncy,2026-01-01\n", name="people.csv")
    confirm(desk)
    hand_in(desk, HEADER + "cy,2026-04-13,Row,1,8,20,\n", name="logs.csv")
    waiting = FileInReview.objects.waiting().get()
    desk.post(f"/files/{waiting.public_id}/confirm/", {"version": waiting.version})
    people = Load.objects.get(kind="clients")

    answer = desk.post(f"/loads/{people.public_id}/undo/now/", follow=True)

    assert "It can’t be undone as things are." in said(answer)
    assert "Undo it first: logs.csv, 15 April 2026" in said(answer)
    assert Load.objects.get(kind="clients").undone_at is None


@pytest.mark.parametrize("show", ["all", "faults"])
def test_thousands_of_rows_come_in_pages_with_the_same_few_queries(desk: Browser, show: str) -> None:
    queries, sizes = [], []
    for rows in (60, 6000):
        FileInReview.objects.all().delete()
        bad = "".join(f"bo,2026-04-14,Row,{number},eight,20,\n" for number in range(1, rows + 1))
        hand_in(desk, HEADER + bad)

        with CaptureQueriesContext(connection) as seen:
            answer = desk.get(f"/files/{the_file().public_id}/?show={show}&page=1")

        queries.append(len(seen) - 1)
        sizes.append(len(page_of(answer).select(".rows tbody")))

    assert queries[0] == queries[1] <= 6
    assert sizes == [50, 50]


def test_a_cell_shows_as_text_whatever_it_holds(desk: Browser) -> None:
    answer = hand_in(desk, with_faults((4, "bo,2026-04-13,<script>alert(1)</script>,3,<b>8</b>,20,\n")))

    assert not page_of(answer).select("main script, main td b b, main input b")
    assert "<b>8</b>" in page_of(answer).find("input", {"name": "cell-4-reps"})["value"]


def test_a_workbook_is_read_once_and_a_faulty_cell_is_named_as_the_spreadsheet_names_it(
    desk: Browser, tmp_path: Path
) -> None:
    rows = ["client performed_on exercise reps", "bo 2026-04-13 Row 8", "bo 2026-04-14 Row x"]
    with xlsxwriter.Workbook(tmp_path / "week.xlsx") as book:
        sheet = book.add_worksheet("Logs")
        for number, row in enumerate(rows):
            sheet.write_row(number, 0, row.split())
    first = hand_in(desk, (tmp_path / "week.xlsx").read_bytes(), name="week.xlsx")

    second = send(desk, "mend", **{"cell-3-reps": "8"})

    assert "(cell D3 of “Logs”)" in said(first)
    assert "2 rows, all good." in said(second)


def test_two_tabs_that_confirm_at_once_load_the_file_once(desk: Browser, coach: Coach) -> None:
    hand_in(desk, HEADER + "".join(GOOD))
    first, second = the_file(), the_file()

    loads = [reviewing.confirm(tab, by=coach, version=1, now=timezone.now()) for tab in (first, second)]

    assert loads[0] == loads[1] == Load.objects.get()
    assert SessionLog.objects.count() == 2


def test_a_load_that_would_do_other_than_was_said_does_nothing(desk: Browser) -> None:
    hand_in(desk, HEADER + "".join(GOOD), name="first.csv")
    hand_in(desk, HEADER + "".join(GOOD[:3]), name="second.csv")
    for file in FileInReview.objects.order_by("file_name"):
        answer = desk.post(f"/files/{file.public_id}/confirm/", {"version": file.version}, follow=True)

    assert "no longer as it was when you looked" in said(answer)
    assert "Loading makes 0 new, changes 0 and leaves 1 as before." in said(answer)
    assert Load.objects.count() == 1
