"""Taking in a file that somebody hands in at a page: read once, in the child, and put by for review."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from datetime import datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Protocol

from coaching.loads import kept_lines
from coaching.loads.models import FileInReview
from coaching.loads.reviewing import check
from roster.people.models import Coach
from roster.tables.faults import FileRefused
from roster.tables.limits import MEGABYTE, UPLOAD_LIMITS
from roster.tables.reading import Progress

MOST_WAITING = 50
KEPT_FOR = timedelta(days=14)
LONGEST_FILE_NAME = 255
# How files begin that are often handed in by mistake.
NO_TABLES = {
    b"\xff\xd8\xff": "a picture", b"\x89PNG": "a picture", b"GIF8": "a picture", b"RIFF": "a picture, film or sound",
    b"%PDF": "a PDF",
}  # fmt: skip
# Of films and of the pictures of many phones, after four bytes that vary.
FILM_OR_PICTURE = b"ftyp"


class Upload(Protocol):
    """A file as the framework hands it over."""

    name: str | None
    size: int | None

    def chunks(self) -> Iterable[bytes]: ...


def take_in(upload: Upload, coach: Coach, now: datetime, progress: Progress | None = None) -> FileInReview:
    """The file under review, checked already; raises FileRefused for one that is no table."""
    waiting = FileInReview.objects.visible_to(coach).waiting()
    if (upload.size or 0) > UPLOAD_LIMITS.file_bytes:
        limit = UPLOAD_LIMITS.file_bytes // MEGABYTE
        raise FileRefused(f"is larger than {limit} MB; a larger one can be loaded by the command")
    if waiting.count() >= MOST_WAITING:
        raise FileRefused(f"has to wait: {MOST_WAITING} files are in review already, decide on some of them first")
    with TemporaryDirectory() as directory:
        path = Path(directory) / "upload"
        digest = _write(upload, path)
        if known := waiting.filter(digest=digest).first():
            return known
        lines, names = kept_lines.read_lines(path, UPLOAD_LIMITS)
    file = FileInReview(
        studio=coach.studio,
        coach=coach,
        file_name=plain_name(upload.name),
        digest=digest,
        kind=kept_lines.guess_kind(names),
        lines=kept_lines.pack(lines),
        received_at=now,
        touched_at=now,
    )
    check(file, now, progress)
    return file


def _write(upload: Upload, path: Path) -> str:
    digest = hashlib.sha256()
    with path.open("wb") as file:
        for number, chunk in enumerate(upload.chunks()):
            if number == 0:
                _refuse_what_is_no_table(chunk)
            digest.update(chunk)
            file.write(chunk)
    return digest.hexdigest()


def _refuse_what_is_no_table(start: bytes) -> None:
    marks = {**NO_TABLES, start[:4] + FILM_OR_PICTURE: "a film or a picture"}
    for mark, what in marks.items():
        if start.startswith(mark):
            raise FileRefused(f"is {what}, and no table; a table is a CSV or XLSX file")


def plain_name(name: str | None) -> str:
    """Without folders and without what no screen shows."""
    last = (name or "").replace("\\", "/").rsplit("/", 1)[-1]
    return "".join(letter for letter in last if letter.isprintable())[-LONGEST_FILE_NAME:] or "file"


def drop_expired(now: datetime) -> int:
    """Files that nobody has touched for long; answers how many were waiting for a decision."""
    old = FileInReview.objects.filter(touched_at__lt=now - KEPT_FOR)
    waiting = old.waiting().count()
    old.delete()
    return waiting
