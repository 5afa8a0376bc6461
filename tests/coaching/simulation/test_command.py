"""`simulate_roster`: files that the loaders read, or one clear line."""

from __future__ import annotations

import csv
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.utils import timezone

from coaching.simulation import simulate
from coaching.simulation.rows import BLOCK_COLUMNS, CLIENT_COLUMNS, LOG_COLUMNS, TRUTH_COLUMNS
from roster.tables.formula_cells import looks_like_a_formula

DAY = "2026-04-15"


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_it_writes_the_three_files_and_the_truth(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "made" / "for" / "it"

    call_command("simulate_roster", seed=4, clients=5, weeks=14, until=date.fromisoformat(DAY), out=out)

    expected = simulate(4, 5, 14, until=date.fromisoformat(DAY))
    assert _rows(out / "clients.csv") == expected.clients
    assert _rows(out / "blocks.csv") == expected.blocks
    assert _rows(out / "logs.csv") == expected.logs
    assert _rows(out / "truth.csv") == expected.truth
    assert "5 clients" in capsys.readouterr().err


def test_no_invented_cell_begins_like_a_formula() -> None:
    made = simulate(4, 12, 14, until=date.fromisoformat(DAY))

    rows = [*made.clients, *made.blocks, *made.logs, *made.truth]
    cells = {str(cell) for row in rows for cell in row.values()}
    assert [cell for cell in cells if looks_like_a_formula(cell)] == []


def test_the_files_begin_with_the_columns_of_the_loaders(tmp_path: Path) -> None:
    call_command("simulate_roster", "--clients=2", f"--until={DAY}", f"--out={tmp_path}")

    tables = {"clients": CLIENT_COLUMNS, "blocks": BLOCK_COLUMNS, "logs": LOG_COLUMNS, "truth": TRUTH_COLUMNS}
    for name, columns in tables.items():
        lines = (tmp_path / f"{name}.csv").read_bytes().split(b"\r\n")
        assert lines[0].decode() == ",".join(columns)


def test_the_mix_is_taken_from_the_words(tmp_path: Path) -> None:
    call_command("simulate_roster", "--clients=6", f"--until={DAY}", f"--out={tmp_path}", "--mix=none, skips_it=36")

    assert {row["kind"] for row in _rows(tmp_path / "truth.csv")} == {"skips_it"}


def test_without_a_day_it_goes_up_to_today(tmp_path: Path) -> None:
    call_command("simulate_roster", "--clients=12", f"--out={tmp_path}")

    newest = max(row["performed_on"] for row in _rows(tmp_path / "logs.csv"))
    assert (timezone.now().date() - date.fromisoformat(newest)).days <= 3


@pytest.mark.parametrize(
    ("words", "line"),
    [
        (["--clients=0"], "needs a client"),
        (["--clients=1000000"], "6400 clients at most"),
        (["--weeks=3"], "12 weeks or more"),
        (["--mix=giants=3"], "giants"),
        (["--until=soon"], "soon"),
    ],
)
def test_bad_usage_is_one_clear_line_and_no_file(tmp_path: Path, words: list[str], line: str) -> None:
    out = tmp_path / "out"

    with pytest.raises(CommandError, match=line):
        call_command("simulate_roster", f"--out={out}", *words)

    assert not out.exists()


def test_a_place_that_can_not_be_written_is_told_of(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("here already")

    with pytest.raises(CommandError) as refused:
        call_command("simulate_roster", "--clients=2", f"--out={tmp_path / 'file'}")

    assert refused.value.returncode == 2


def test_the_generator_needs_nothing_but_plain_python() -> None:
    code = "import sys, coaching.simulation; print(*sorted({'django', 'pandas', 'numpy'} & set(sys.modules)))"

    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert loaded.stdout.strip() == ""
