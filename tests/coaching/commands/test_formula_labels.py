"""Labels that a spreadsheet would run: loaded as text, exported as text, and loaded again (ASVS 5.0 1.2.10)."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from pathlib import Path

import pytest

from roster.logs.models import SessionLog
from roster.people.models import Client
from roster.tables.formula_cells import looks_like_a_formula
from tests.coaching.commands.conftest import Outcome
from tests.roster.tables.files import write_csv

pytestmark = pytest.mark.usefixtures("coach")
FILES = {
    "clients": "client,name,joined_on\n'=cmd|' /C calc'!A0,'@Ana,2026-01-12\n",
    "blocks": "client,block,starts_on,week,day,session,exercise,sets,reps,load\n"
    "'=cmd|' /C calc'!A0,'+Base,2026-04-06,1,mon,'-A,'=Row,3,8,20\n",
}


def test_what_an_export_writes_names_the_same_session_when_it_is_loaded(
    run: Callable[..., Outcome], tmp_path: Path
):
    for kind, text in FILES.items():
        assert run(f"load_{kind}", write_csv(tmp_path / f"{kind}.csv", text)).status == 0
    exported = run("export", "sessions", "--as-of", "2026-04-08").data
    header, row = csv.reader(io.StringIO("\n".join(exported)))
    cells = dict(zip(header, row, strict=True))

    names = [cells[name] for name in ("client", "block", "week", "session")]
    log = io.StringIO()
    csv.writer(log).writerows([["client", "block", "week", "session", "performed_on"], [*names, "2026-04-06"]])
    loaded = run("load_logs", write_csv(tmp_path / "logs.csv", log.getvalue()))

    assert names == ["'=cmd|' /C calc'!A0", "'+Base", "1", "'-A"]
    assert not any(looks_like_a_formula(cell) for cell in row)
    assert Client.objects.get().key == "=cmd|' /C calc'!A0"
    assert (loaded.status, SessionLog.objects.get().planned_session.label) == (0, "-A")
