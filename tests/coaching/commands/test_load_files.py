"""The three loaders as a coach uses them: real files in, one clear line for each thing that is wrong."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from coaching.monitoring.models import ClientState, SessionFact
from roster.blocks.models import PlannedExercise
from roster.logs.models import SessionLog, SetLog
from roster.people.models import Client, Coach, Studio
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

    assert [outcome.status for outcome in outcomes] == [0, 0, 0]
    assert [outcome.data for outcome in outcomes] == [[], [], []]
    assert [outcome.said[-1].partition(": ")[2] for outcome in outcomes] == [
        "clients: 2 created, 0 changed, 0 unchanged.",
        "blocks: 2 created, 0 changed, 0 unchanged.",
        "session logs: 2 created, 0 changed, 0 unchanged.",
    ]
    sets = SetLog.objects.filter(session_log__client__key="101").values_list("reps", "load_g", "is_warm_up")
    assert set(sets) == {(8, 16_000, True), (8, 20_000, False), (30, None, False)}
    assert SetLog.objects.get(session_log__client__key="102").load_g == 10_206
    assert SessionFact.objects.filter(status__in=["done", "partial"]).count() == 2
    assert ClientState.objects.count() == 2


def test_the_same_files_again_change_nothing(run: Run, paths: dict[str, Path]):
    _load_all(run, paths)

    outcomes = _load_all(run, paths)

    assert [outcome.said[-1].partition(": ")[2] for outcome in outcomes] == [
        "clients: 0 created, 0 changed, 2 unchanged.",
        "blocks: 0 created, 0 changed, 2 unchanged.",
        "session logs: 0 created, 0 changed, 2 unchanged.",
    ]


def test_the_same_content_as_workbook_and_as_csv_is_the_same(run: Run, tmp_path: Path):
    _load_all(run, {kind: _as_workbook(tmp_path, kind) for kind in FILES})

    outcomes = _load_all(run, {kind: _as_csv(tmp_path, kind) for kind in FILES})

    assert [" 0 created, 0 changed, 2 unchanged." in outcome.said[-1] for outcome in outcomes] == [True] * 3


def test_a_check_tells_and_saves_nothing(run: Run, tmp_path: Path):
    outcome = run("load_clients", _as_csv(tmp_path, "clients"), "--check")

    assert outcome.said == ["clients.csv: clients: 2 created, 0 changed, 0 unchanged; checked only, nothing was saved."]
    assert not Client.objects.exists()


def test_every_fault_has_a_line_and_nothing_is_saved(run: Run, tmp_path: Path):
    path = write_csv(tmp_path / "clients.csv", "client,joined_on,minutes\nana,2026-01-12,\nbo,soon,x\n")

    outcome = run("load_clients", path)

    assert outcome.status == 2
    assert outcome.data == []
    assert outcome.said == [
        "clients.csv: row 3, joined_on: “soon” is no date such as 2026-04-30",
        "clients.csv: row 3, minutes: “x” is no number",
        "clients.csv: 2 faults; nothing was saved.",
    ]
    assert not Client.objects.exists()


def test_a_fault_in_a_correction_leaves_the_record_as_it_was(run: Run, tmp_path: Path, paths: dict[str, Path]):
    _load_all(run, paths)
    rows = [*FILES["logs"][:2], [*FILES["logs"][2][:7], "eight", *FILES["logs"][2][8:]]]

    outcome = run("load_logs", write_csv(tmp_path / "corrected.csv", _text(rows)))

    assert outcome.status == 2
    assert (SessionLog.objects.count(), SetLog.objects.count()) == (2, 4)


def test_a_fault_found_while_correcting_takes_back_what_was_corrected_before_it(
    run: Run, tmp_path: Path, paths: dict[str, Path]
):
    _load_all(run, paths)
    other_block_corrected_first = [
        FILES["blocks"][0],
        [*FILES["blocks"][3][:10], 3, "12-10-6", *FILES["blocks"][3][12:]],
    ]
    named_session_gone = [[*FILES["blocks"][1][:5], "Z", *FILES["blocks"][1][6:]]]

    outcome = run("load_blocks", write_csv(tmp_path / "b.csv", _text(other_block_corrected_first + named_session_gone)))

    assert outcome.said[0].endswith("“A” of week 1 is gone from the file, but logs name it: it can't be dropped")
    assert PlannedExercise.objects.get(exercise__name="Press").set_targets == [12, 10, 8]


def test_a_check_of_a_correction_tells_the_change_and_leaves_the_record_as_it_was(
    run: Run, tmp_path: Path, paths: dict[str, Path]
):
    _load_all(run, paths)
    text = _text(FILES["blocks"]).replace(";3;8;20;", ";4;8;20;")

    outcome = run("load_blocks", write_csv(tmp_path / "corrected.csv", text), "--check")

    before, after = (f"Goblet squat, {sets} x 8, 20 kg, rest 75 s" for sets in (3, 4))
    assert f"changed: 101, Base, week 1, A: {before} → {after}" in outcome.said
    assert not PlannedExercise.objects.filter(sets=4).exists()


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

    assert outcome.said[0].startswith("blocks.xlsx: row 2, reps (cell L2 of “Sheet1”): “2008-10-12” is")


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
