from __future__ import annotations

from pathlib import Path
from typing import Any
from uuid import uuid4

import time_machine
from django.core.management import call_command

from coaching.loads.progress import STALE_AFTER_SECONDS, PageProgress, read_progress
from roster.people.models import Coach


def test_what_something_cut_off_has_left_behind_goes_with_the_next_run(
    coach: Coach, settings: Any, tmp_path: Path
) -> None:
    settings.HOME_DIR = tmp_path
    cut_off = uuid4()
    PageProgress(coach, cut_off).__enter__()("rows to check", 12)

    call_command("run_due")
    at_once = read_progress(coach, cut_off)
    with time_machine.travel(tmp_path.stat().st_mtime + 2 * STALE_AFTER_SECONDS):
        call_command("run_due")

    assert at_once == {"what": "rows to check", "count": 12}
    assert list((tmp_path / "progress").iterdir()) == []
