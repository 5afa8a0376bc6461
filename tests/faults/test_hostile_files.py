"""Files made to do harm are refused in one line, within the time and memory of an upload, and reach nothing.

ASVS 5.0 5.2.1, 5.2.2, 5.2.3 (sizes, kinds, unpacked sizes), 1.5.1 (no external entities), 15.2.2 (work is bounded).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pytest

from roster.logs.log_rows import COLUMNS
from roster.tables.cells import UnreadableCell
from roster.tables.child import lines_from_child
from roster.tables.faults import FileRefused
from roster.tables.limits import UPLOAD_LIMITS
from roster.tables.parsing import parse_file
from roster.tables.reading import Parse, read_table
from roster.tables.sheets import NO_RESULT
from roster.tables.table import Table
from tests.faults import hostile_files, markup_mutations
from tests.faults.campaign import listener
from tests.faults.hostile_files import HOSTILE
from tests.faults.markup_mutations import DOCTYPES
from tests.faults.nursery import Nursery
from tests.faults.seeds import rows_of, seeds
from tests.faults.trial import MOST_CPU_SECONDS, MOST_MEMORY_BYTES

Bytes = Callable[[], bytes]
# From here on document types only point somewhere, and nobody follows.
HARMLESS = next(number for number, doctype in enumerate(DOCTYPES) if "<!ENTITY" not in doctype)


def _read(directory: Path, content: bytes, parse: Parse, name: str = "logs.csv") -> Table | str:
    path = directory / name
    path.write_bytes(content)
    try:
        return read_table(path, COLUMNS, UPLOAD_LIMITS, parse=parse)
    except FileRefused as refused:
        return str(refused.fault)


@pytest.mark.parametrize(("content", "line"), [case[1:] for case in HOSTILE], ids=[case[0] for case in HOSTILE])
def test_a_hostile_file_is_refused_in_one_line_and_costs_little(
    nursery: Nursery, tmp_path: Path, content: Bytes, line: str
):
    said = _read(tmp_path, content(), nursery.parse)

    assert isinstance(said, str)
    assert "\n" not in said
    assert re.search(line, said), said
    assert nursery.taken.status == 0
    assert nursery.taken.cpu_seconds < MOST_CPU_SECONDS
    assert nursery.taken.memory_bytes < MOST_MEMORY_BYTES


@pytest.mark.parametrize("number", range(len(DOCTYPES)))
def test_no_reference_in_markup_is_followed(nursery: Nursery, tmp_path: Path, number: int):
    with listener() as arrivals:
        content = hostile_files.with_document_type(number, markup_mutations.LISTENER)
        # In the child, and by the parser alone, which nothing but itself keeps from it.
        said = _read(tmp_path, content, nursery.parse)
        bare = [line for line in parse_file(BytesIO(content), UPLOAD_LIMITS) if "refused" in line]

        assert arrivals() == 0
    assert "root:" not in str(said)
    assert isinstance(said, str) or number == len(DOCTYPES) - 1
    assert bool(bare) == isinstance(said, str)
    assert number >= HARMLESS or "its markup defines entities or refers to other places" in str(said)


@pytest.mark.parametrize(
    "name", ["zip bomb of a sheet", "a row of a million cells", "old workbook or one with a password"]
)
def test_the_child_of_the_product_says_the_same(nursery: Nursery, tmp_path: Path, name: str):
    [content] = [make() for case, make, _ in HOSTILE if case == name]

    assert _read(tmp_path, content, lines_from_child) == _read(tmp_path, content, nursery.parse)


def test_more_work_than_an_upload_may_make_is_broken_off(tmp_path: Path):
    """Within all sizes, and yet the reader of workbooks would take half a minute for its texts."""
    texts = b"<si><t/></si>" * 3_700_000
    sharing = b'<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">' + texts + b"</sst>"

    said = _read(tmp_path, hostile_files.with_member("xl/sharedStrings.xml", sharing), lines_from_child)

    assert re.search("took longer to read than the 5 s|takes more memory", str(said)), said


def test_every_formula_without_its_result_is_told_with_its_cell(tmp_path: Path):
    table = _read(tmp_path, hostile_files.all_formulas(), parse_file)

    assert isinstance(table, Table)
    unreadable = [cell for row in table.rows for cell in row.cells if isinstance(cell, UnreadableCell)]
    assert len(unreadable) > 100
    assert {cell.reason for cell in unreadable} == {NO_RESULT}


@pytest.mark.parametrize("name", ["logs.csv", "logs.xlsx", "logs.xls", "logs"])
@pytest.mark.parametrize("style", ["comma", "typed cells", "since 1904", "other sheets"])
def test_what_a_file_is_counts_and_not_what_its_name_says(tmp_path: Path, name: str, style: str):
    [content] = [seed.content for seed in seeds() if (seed.kind, seed.style) == ("logs", style)]

    table = _read(tmp_path, content, parse_file, name)

    assert isinstance(table, Table)
    assert len(table.rows) == len(rows_of("logs")) - 1


def test_macros_are_passed_over(tmp_path: Path):
    with_macros = hostile_files.with_member("xl/vbaProject.bin", b"\xcc\x61" * 500)

    table = _read(tmp_path, with_macros, parse_file, "logs.xlsm")

    assert isinstance(table, Table)
    assert len(table.rows) == len(rows_of("logs")) - 1
