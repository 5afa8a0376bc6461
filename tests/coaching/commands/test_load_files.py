"""The three loaders as a coach uses them: real files in, one clear line for each thing that is wrong."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from roster.blocks.models import Block
from roster.people.models import Coach, Studio
from tests.coaching.commands.conftest import Outcome
from tests.coaching.factories import StudioFactory
from tests.roster.tables.files import Value, write_csv, write_workbook

Run = Callable[..., Outcome]
PLAN_COLUMNS = "client,block,starts_on,week,day,session,slot,exercise,implement,count,sets,reps,load,unit,rest_s"
LOG_COLUMNS = "client,performed_on,block,week,session,exercise,set,reps,load,warm_up,minutes,rpe"
FILES: dict[str, list[list[Value]]] = {
    "clients": [
        ["client", "name", "joined_on", "unit", "kit"],
        [101, "Ana Lima", date(2026, 1, 12), "kg", "kettlebell: 16, 20"],
        [102, "Bo Falk", date(2026, 1, 12), "lb", None],
    ],
    "blocks": [
        [*PLAN_COLUMNS.split(",")],
        [101, "Base", date(2026, 4, 6), 1, "mon", "A", "lower", "Goblet squat", "kettlebell", 1, 3, 8, 20, "kg", 75],
        [101, "Base", date(2026, 4, 6), 1, "mon", "A", "full", "Plank", None, None, 2, "30 s", None, None, 60],
        [102, "Base", date(2026, 4, 6), 1, "tue", None, "upper", "Press", "dumbbell", 2, 3, "12-10-8", 22.5, None, 75],
    ],
    "logs": [
        [*LOG_COLUMNS.split(",")],
        [101, date(2026, 4, 6), "Base", 1, "A", "Goblet squat", 1, 8, 16, True, 31.5, 7],
        [101, date(2026, 4, 6), "Base", 1, "A", "Goblet squat", 2, 8, 20, False, None, None],
        [101, date(2026, 4, 6), "Base", 1, "A", "Plank", 1, "30 s", None, False, None, None],
        [102, date(2026, 4, 7), None, None, None, "Press", 1, 12, 22.5, None, None, None],
    ],
}

pytestmark = pytest.mark.usefixtures("coach")


def _as_workbook(directory: Path, kind: str) -> Path:
    return write_workbook(directory / f"{kind}.xlsx", FILES[kind])


def _as_csv(directory: Path, kind: str) -> Path:
    """As a spreadsheet with decimal commas writes it: semicolons and a byte order mark."""
    return write_csv(directory / f"{kind}.csv", _text(FILES[kind]), "utf-8-sig")


def _text(rows: list[list[Value]]) -> str:
    return "".join(";".join(_cell(value) for value in row) + "\r\n" for row in rows)


def _cell(value: Value) -> str:
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case float():
            return str(value).replace(".", ",")
        case _:
            return str(value)


@pytest.fixture(params=[_as_workbook, _as_csv], ids=["xlsx", "csv"])
def paths(request: pytest.FixtureRequest, tmp_path: Path) -> dict[str, Path]:
    return {kind: request.param(tmp_path, kind) for kind in FILES}


def _load_all(run: Run, paths: dict[str, Path]) -> list[Outcome]:
    return [run(f"load_{kind}", path) for kind, path in paths.items()]


def test_three_files_become_clients_plans_logs_and_facts(run: Run, paths: dict[str, Path]):
    outcomes = _load_all(run, paths)

    before, after = (f"Goblet squat, {sets} x 8, 20 kg, rest 75 s" for sets in (3, 4))
    assert f"changed: 101, Base, week 1, A: {before} → {after}" in outcome.said
    assert Block.objects.filter(sessions__exercises__sets=4).count() == 0


@pytest.mark.parametrize(
    ("content", "line"),
    [
        (b"", "any.csv: is empty"),
        (b"client,joined_on\n", "any.csv: has a header and no rows"),
        (b"client\nana\n", "any.csv: row 1: the header lacks the column joined_on"),
        (b"PK\x03\x04 and then nothing", "any.csv: is a damaged or half-written workbook (File is not a zip file)"),
        (bytes(range(256)), "any.csv: row 2: the byte 0x80, “€” in Windows-1252 is no UTF-8"),
        (b'client,joined_on\n"ana,2026-01-12\n', "any.csv: row 2: a quote is opened and never closed"),
    ],
)
def test_a_file_that_is_no_table_has_one_clear_line(run: Run, tmp_path: Path, content: bytes, line: str):
    path = tmp_path / "any.csv"
    path.write_bytes(content)

    outcome = run("load_clients", path)

    assert outcome.status == 2
    assert outcome.said[0].startswith(line)
    assert outcome.said[1:] == ["any.csv: 1 fault; nothing was saved."]


def test_more_faults_than_anybody_reads_are_counted(run: Run, tmp_path: Path):
    rows = "".join(f"c{n},soon\n" for n in range(300))

    outcome = run("load_clients", write_csv(tmp_path / "clients.csv", "client,joined_on\n" + rows))

    assert len(outcome.said) == 202
    assert outcome.said[-2:] == ["and 100 more", "clients.csv: 300 faults; nothing was saved."]


def test_a_workbook_column_of_reps_that_became_dates_is_refused_and_not_guessed(run: Run, tmp_path: Path):
    rows = [FILES["blocks"][0], [*FILES["blocks"][3][:11], date(2008, 10, 12), *FILES["blocks"][3][12:]]]
    run("load_clients", _as_csv(tmp_path, "clients"))

    outcome = run("load_blocks", write_workbook(tmp_path / "blocks.xlsx", rows))

    assert outcome.said[0].startswith("blocks.xlsx: row 2, reps: “2008-10-12” is a date cell")


def test_a_studio_is_named_only_when_there_are_several(run: Run, tmp_path: Path, coach: Coach):
    other = StudioFactory(name="South Street")
    path = _as_csv(tmp_path, "clients")

    without, unknown, named = (
        run("load_clients", path),
        run("load_clients", path, "--studio", "West"),
        run("load_clients", path, "--studio", "north STREET"),
    )

    assert without.said == ["there are several studios: say which with --studio, one of “North Street”, “South Street”"]
    assert unknown.said == ["there is no studio “West”, only “North Street”, “South Street”"]
    assert [without.status, unknown.status, named.status] == [2, 2, 0]
    assert (coach.studio.clients.count(), other.clients.count()) == (2, 0)


def test_without_a_studio_or_an_owner_nothing_can_be_loaded(run: Run, tmp_path: Path, coach: Coach):
    path = _as_csv(tmp_path, "clients")
    Coach.objects.all().delete()
    without_owner = run("load_clients", path)
    Studio.objects.all().delete()
    without_studio = run("load_clients", path)

    assert without_owner.said == ["the studio “North Street” has no owner who may sign in"]
    assert without_studio.said[0].startswith("there is no studio yet")
    assert (without_owner.status, without_studio.status) == (2, 2)
