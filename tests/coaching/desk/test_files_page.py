"""Handing files in: what is taken for review, what is refused, and how long it waits."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.core.management import call_command
from django.db import connection
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from coaching.loads.models import FileInReview
from roster.people.models import Coach
from tests.coaching.desk.handed_in import GOOD, HEADER, confirm, hand_in, said, send, the_file

pytestmark = pytest.mark.usefixtures("wednesday")


def test_a_file_whose_columns_do_not_tell_is_asked_about(desk: Browser) -> None:
    asked = hand_in(desk, "client,joined_on,performed_on,exercise,reps\nbo,2026-01-01,2026-04-13,Row,8\n")

    answer = send(desk, "kind", kind="logs")

    assert "do not tell for certain what this file is about" in said(asked)
    assert "the header lacks the columns block, starts_on" in said(asked)
    assert "columns not known and not read: “joined_on”" in said(answer)


def test_a_file_taken_for_another_kind_is_read_anew_or_says_why_not(desk: Browser) -> None:
    hand_in(desk, HEADER + "".join(GOOD))

    answer = send(desk, "kind", kind="blocks")

    assert "week.csv can’t be read as a file of blocks".replace("’", "'") in said(answer)
    assert the_file().kind == "logs"


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b"", "is empty"),
        (b"client,performed_on,exercise,reps\n", "has a header and no rows"),
        (b"\xff\xd8\xff\xe0\x00\x10JFIF", "is a picture, and no table; a table is a CSV or XLSX file"),
        (b"\x00\x00\x00\x18ftypheic", "is a film or a picture, and no table"),
        (b"%PDF-1.7", "is a PDF, and no table"),
        (b"PK\x03\x04 broken", "is a damaged or half-written workbook"),
        (b"\xd0\xcf\x11\xe0", "is an old .xls workbook"),
        (b"caf\xe9,x\n1,2\n", "is no UTF-8"),
    ],
)
def test_what_is_no_table_is_refused_in_plain_words_and_not_kept(
    desk: Browser, content: bytes, reason: str
) -> None:
    answer = hand_in(desk, content, name="photo.csv")

    assert "photo.csv was not taken: " in said(answer)
    assert reason in said(answer)
    assert not FileInReview.objects.exists()


def test_a_file_that_is_too_large_is_refused_before_it_is_read(desk: Browser) -> None:
    answer = hand_in(desk, b"x" * 10_000_001)

    assert "is larger than 10 MB" in said(answer)


def test_one_bad_file_among_several_keeps_none_of_the_others_out(desk: Browser) -> None:
    answer = hand_in(desk, HEADER + "".join(GOOD), b"", "client,joined_on\ncy,2026-01-01\n")

    assert "week.csv was not taken: is empty." in said(answer)
    assert set(FileInReview.objects.values_list("kind", flat=True)) == {"logs", "clients"}


def test_an_upload_that_was_cut_short_takes_nothing(desk: Browser) -> None:
    file = SimpleUploadedFile("week.csv", (HEADER + GOOD[0]).encode())

    answer = desk.post("/files/add/", {"files": file}, follow=True)

    assert "did not arrive whole" in said(answer)
    assert not FileInReview.objects.exists()


def test_the_same_file_handed_in_twice_waits_once(desk: Browser) -> None:
    for _ in range(2):
        hand_in(desk, HEADER + "".join(GOOD))

    assert FileInReview.objects.count() == 1


def test_a_file_that_was_loaded_before_says_so(desk: Browser) -> None:
    hand_in(desk, HEADER + "".join(GOOD))
    confirm(desk)

    answer = hand_in(desk, HEADER + "".join(GOOD))

    assert "This very file was loaded on 15 April 2026" in said(answer)


def test_a_file_is_put_away_with_nothing_loaded(desk: Browser) -> None:
    hand_in(desk, HEADER + "".join(GOOD))

    answer = send(desk, "drop")

    assert "week.csv is put away; nothing of it was loaded." in said(answer)
    assert not FileInReview.objects.exists()


def test_what_nobody_decides_on_is_dropped_after_two_weeks(
    desk: Browser, capsys: pytest.CaptureFixture[str]
) -> None:
    hand_in(desk, HEADER + "".join(GOOD))

    call_command("run_due")
    assert FileInReview.objects.exists()
    FileInReview.objects.update(touched_at=timezone.now() - timedelta(days=15))
    call_command("run_due")

    assert not FileInReview.objects.exists()
    assert "Files that nobody decided on, dropped: 1." in capsys.readouterr().err


def test_the_files_page_asks_as_often_for_many_as_for_few(desk: Browser, coach: Coach) -> None:
    counts = []
    for number in (1, 12):
        for more in range(number):
            hand_in(desk, HEADER + f"bo,2026-04-14,Row,{more + 1},{number + 1},20,\n")
            waiting = FileInReview.objects.waiting().get()
            if more % 2 == 0:
                desk.post(f"/files/{waiting.public_id}/confirm/", {"version": waiting.version})
            waiting.delete()
        with CaptureQueriesContext(connection) as seen:
            desk.get("/files/")
        counts.append(len(seen))

    assert counts[0] == counts[1]


def test_progress_is_told_to_whoever_waits_and_to_nobody_else(
    desk: Browser, coach: Coach, owner: Coach, browser_of: Callable[[Coach], Browser], settings: Any, tmp_path: Any
) -> None:
    from coaching.loads.progress import PageProgress

    settings.HOME_DIR = tmp_path
    token = "0d7e3a52-8d3c-4f51-9a35-0d6f3b6a8d11"
    address = f"/files/progress/{token}/"

    with PageProgress(coach, token) as progress:
        progress("rows to check", 20_000)
        told, others = desk.get(address).json(), browser_of(owner).get(address).json()
    afterwards = desk.get(address).json()

    assert told == {"what": "rows to check", "count": 20_000}
    assert (others, afterwards) == ({}, {})
