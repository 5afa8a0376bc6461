"""Every page on paper: A4 and Letter, folded as it comes and with everything unfolded."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.browser.pages import Shown, all_shown
from tests.browser.printing import printed, words_to_print
from tests.browser.visiting import Visitor, unfold
from tests.machine import leave_out_unless

TALL_ROW = "() => { const row = document.querySelector('main tbody tr'); row.style.height = '600mm'; }"


@pytest.fixture(autouse=True)
def _paper_can_be_read() -> None:
    is_there = shutil.which("pdftotext") is not None
    leave_out_unless(is_there, "no pdftotext on this machine", required_by="MUSTER_BROWSER_REQUIRED")


@pytest.mark.parametrize("shown", all_shown(), ids=lambda shown: shown.name)
def test_a_page_prints_whole_and_tears_no_row(visitor: Visitor, shown: Shown, tmp_path: Path) -> None:
    page = visitor.show(shown)

    for form, is_unfolded in (("A4", False), ("Letter", False), ("A4", True)):
        if is_unfolded:
            unfold(page)
        words = words_to_print(page)
        paper = printed(page, form, tmp_path)
        assert (paper.torn_rows(), paper.words_outside(), paper.lacks(words)) == ([], [], []), form


def test_a_row_that_is_torn_and_a_word_that_is_lost_would_be_found(visitor: Visitor, tmp_path: Path) -> None:
    page = visitor.open("/clients/")
    page.evaluate(TALL_ROW)

    paper = printed(page, "A4", tmp_path)

    assert len(paper.torn_rows()) == 1
    assert paper.lacks(["Clients", "unheard-of"]) == ["unheard-of"]
