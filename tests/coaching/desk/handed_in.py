"""Files handed in at the desk as a browser would, and what the pages say."""

from __future__ import annotations

from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client as Browser

from coaching.loads.models import FileInReview
from tests.coaching.desk.pages import page_of, words

HEADER = "client,performed_on,exercise,set,reps,load,pain\n"
GOOD = [f"bo,2026-04-{day},Row,{number},8,20,\n" for day in (13, 14) for number in (1, 2, 3)]


def hand_in(desk: Browser, *texts: str | bytes, name: str = "week.csv", **fields: str) -> HttpResponse:
    files = [SimpleUploadedFile(name, text.encode() if isinstance(text, str) else text) for text in texts]
    return desk.post("/files/add/", {"files": files, "whole": "yes", **fields}, follow=True)


def said(answer: HttpResponse) -> str:
    return words(page_of(answer))


def with_faults(*changes: tuple[int, str]) -> str:
    """The good file with some of its rows, by their number in a spreadsheet, in another form."""
    rows = list(GOOD)
    for number, row in changes:
        rows[number - 2] = row
    return HEADER + "".join(rows)


def the_file() -> FileInReview:
    return FileInReview.objects.get()


def send(desk: Browser, act: str, **fields: Any) -> HttpResponse:
    return desk.post(f"/files/{the_file().public_id}/{act}/", fields, follow=True)


def confirm(desk: Browser) -> HttpResponse:
    return send(desk, "confirm", version=the_file().version)
