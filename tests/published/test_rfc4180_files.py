"""CSV as RFC 4180 defines it (Y. Shafranovich, 2005, section 2, rules 1 to 7), with Python's csv module as peer.

The examples are those of the RFC's rules; written from memory and agreed with the standard library, which is asked
beside each.
"""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from roster.tables.headers import Columns
from roster.tables.reading import read_table
from roster.tables.text_files import read_text_rows

AAA_BBB_CCC = ["aaa", "bbb", "ccc"]
EXAMPLES = {
    "rule 1, a line break after each record": ("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", [AAA_BBB_CCC, ["zzz", "yyy", "xxx"]]),
    "rule 2, none after the last": ("aaa,bbb,ccc\r\nzzz,yyy,xxx", [AAA_BBB_CCC, ["zzz", "yyy", "xxx"]]),
    "rule 5, fields in quotes or not": ('"aaa","bbb","ccc"\r\nzzz,yyy,xxx', [AAA_BBB_CCC, ["zzz", "yyy", "xxx"]]),
    "rule 6, a line break in quotes": (
        'aaa,bbb,ccc\r\n"aaa","b\r\nbb","ccc"\r\n',
        [AAA_BBB_CCC, ["aaa", "b\r\nbb", "ccc"]],
    ),
    "rule 7, a quote is doubled": ('aaa,bbb,ccc\r\n"aaa","b""bb","ccc"', [AAA_BBB_CCC, ["aaa", 'b"bb', "ccc"]]),
}


@pytest.mark.parametrize(("text", "records"), EXAMPLES.values(), ids=EXAMPLES)
def test_the_examples_of_rfc_4180_are_read_as_it_says_and_as_the_standard_library_does(
    text: str, records: list[list[str]]
):
    read = [record for _, record in read_text_rows(io.BytesIO(text.encode()), longest_cell=100)]

    assert read == records
    assert read == list(csv.reader(io.StringIO(text, newline="")))


def test_rule_4_each_line_has_the_same_number_of_fields(tmp_path: Path):
    path = tmp_path / "rfc.csv"
    path.write_text("aaa,bbb,ccc\nzzz,yyy\n")

    table = read_table(path, Columns(known=("aaa", "bbb", "ccc"), required=("aaa",)))

    assert [str(fault) for fault in table.faults] == ["row 2, ccc: has 2 cells under a header of 3"]
