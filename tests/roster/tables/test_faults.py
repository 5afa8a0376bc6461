"""A fault is one line that says where, what and why."""

from __future__ import annotations

from roster.tables.faults import MOST_FAULTS_KEPT, Fault, Faults, FileRefused


def test_a_fault_names_row_column_value_and_reason():
    assert str(Fault(7, "load", "abc", "is no number")) == "row 7, load: “abc” is no number"


def test_a_fault_of_an_empty_cell_has_no_value():
    assert str(Fault(7, "client", "", "is empty")) == "row 7, client: is empty"


def test_a_fault_of_the_whole_file_has_no_place():
    assert str(Fault(None, None, "", "is empty")) == "is empty"


def test_a_value_can_neither_break_the_line_nor_drive_the_terminal():
    assert str(Fault(7, "note", "a\nb\x1b[31m", "is wrong")) == "row 7, note: “a·b·[31m” is wrong"


def test_a_value_that_a_reason_names_can_not_either():
    faults = Faults()
    faults.add(7, "pauses", "", "has a day, “a\nb\u202ec”, that is none")

    assert [str(fault) for fault in faults] == ["row 7, pauses: has a day, “a·b·c”, that is none"]
    assert str(FileRefused("is “a\nb”").fault) == "is “a·b”"


def test_a_long_value_is_shortened():
    assert len(str(Fault(7, "note", "x" * 5000, "is wrong"))) < 100


def test_faults_come_in_the_order_of_rows():
    faults = Faults()
    faults.add(9, "a", "", "later")
    faults.add(2, "b", "", "earlier")

    assert [fault.row for fault in faults] == [2, 9]


def test_faults_beyond_what_anybody_reads_are_only_counted():
    faults = Faults()
    for row in range(MOST_FAULTS_KEPT + 5):
        faults.add(row, "a", "x", "is wrong")

    assert (faults.total, len(list(faults))) == (MOST_FAULTS_KEPT + 5, MOST_FAULTS_KEPT)
    assert faults.counted == "10,005 faults"
