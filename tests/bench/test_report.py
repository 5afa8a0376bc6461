"""What is kept of a measuring run: a section a part, the newest of a day."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.bench import report
from tests.bench.report import Line, keep, section
from tests.bench.timing import Times

DAY = date(2026, 4, 15)
SLOW, QUICK = Times([0.2, 0.4, 0.3], [0.1, 0.1, 0.1]), Times([0.1, 0.1, 0.1], [0.1, 0.2, 0.2])


@pytest.mark.parametrize(("line", "told"), [
    (Line("work", "who", QUICK, SLOW, "<= 0.5 of it", 0.5), ["0.33", "2.00", "<= 0.5 of it", "yes"]),
    (Line("work", "who", SLOW, QUICK, "<= 0.5 of it", 0.5), ["3.00", "0.50", "<= 0.5 of it", "NO"]),
    (Line("work", "who", SLOW, QUICK, ">= 0.5", least=0.5, is_throughput=True), ["0.33", "2.00", ">= 0.5", "NO"]),
    (Line("work", "who", QUICK, goal="< 50 ms", most=50), ["", "", "< 50 ms", "NO"]),
    (Line("work", "who", QUICK), ["", "", "", ""]),
])
def test_a_line_says_its_ratios_and_whether_its_goal_is_held(line: Line, told: list[str]):
    assert line.cells()[-4:] == told


def test_a_part_measured_again_takes_its_own_place_and_leaves_the_others(tmp_path: Path, monkeypatch):
    monkeypatch.setattr(report, "ROOT", tmp_path)
    (tmp_path / "fixtures").mkdir()
    keep([section(part, [Line("old", part, SLOW)], "As it was.") for part in ("pages", "files")], DAY)

    text = keep([section("pages", [Line("new", "who", QUICK)], "As it is.")], DAY).read_text()

    assert [line for line in text.splitlines() if line.startswith("#")] == [
        "# Measured on 2026-04-15", "## Pages", "## Files",
    ]
    assert "| new | who |" in text
    assert "| old | files |" in text
    assert "| old | pages |" not in text
