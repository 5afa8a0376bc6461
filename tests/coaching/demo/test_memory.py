"""The demo knows from one run to the next what it has made."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from coaching.demo.memory import FILE_NAME, DemoMemory, recall

STAGED_FOR = date(2026, 4, 15)


def test_what_is_kept_is_recalled(tmp_path: Path) -> None:
    memory = DemoMemory(1, 36, 26, STAGED_FOR).loaded(date(2026, 4, 17))

    memory.keep(tmp_path / "demo")

    assert recall(tmp_path / "demo") == memory


def test_before_the_first_load_it_recalls_the_day_it_was_staged_for(tmp_path: Path) -> None:
    memory = DemoMemory(1, 36, 26, STAGED_FOR)

    memory.keep(tmp_path)

    assert recall(tmp_path) == memory
    assert memory.loaded_until is None


@pytest.mark.parametrize(
    "kept", [None, "", "{", "[]", "{}", '{"seed": 1}', '{"staged_for": "soon", "loaded_until": null}']
)
def test_what_can_not_be_read_is_nothing(tmp_path: Path, kept: str | None) -> None:
    if kept is not None:
        (tmp_path / FILE_NAME).write_text(kept)

    assert recall(tmp_path) is None
