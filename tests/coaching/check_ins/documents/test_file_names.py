from __future__ import annotations

import re
from uuid import UUID

import pytest

from coaching.check_ins.content import Paper
from coaching.check_ins.documents import Kind, file_name_of
from tests.coaching.check_ins.documents import months


def test_a_file_is_named_for_whom_and_when_it_is() -> None:
    name = file_name_of(months.a_month(), Paper.THEIRS, "pdf")

    assert name == "ilse-brandt-5b8f6a52-2026-03-01-to-2026-03-31-theirs.pdf"


@pytest.mark.parametrize("name", ["../../etc/passwd", "Łucja Ş.", "علي", "🏋️", 'a"b\r\nc', "x" * 500, "", "CON"])
@pytest.mark.parametrize("kind", Kind)
def test_every_name_is_safe_on_every_system(name: str, kind: Kind) -> None:
    made = file_name_of(months.a_month(client_name=name), Paper.MINE, kind)

    assert re.fullmatch(rf"[a-z0-9-]{{1,60}}-5b8f6a52-2026-03-01-to-2026-03-31-mine\.{kind}", made)


def test_two_people_of_one_name_have_two_files() -> None:
    other = months.a_month(client_id=UUID("00000000-95c5-4f0c-9d0e-3f6d8f3f7a11"))

    assert file_name_of(other, Paper.MINE, "pdf") != file_name_of(months.a_month(), Paper.MINE, "pdf")


@pytest.mark.parametrize("kind", ["xlsx", "csv"])
def test_workbook_and_table_are_always_the_coachs(kind: str) -> None:
    assert file_name_of(months.a_month(), Paper.THEIRS, kind).endswith(f"-mine.{kind}")
