from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from coaching.check_ins.content import Part
from roster.people.models import Client, Coach
from tests.coaching.check_ins.packs import a_pack
from tests.coaching.commands.conftest import Outcome
from tests.coaching.desk.packs import kept
from tests.coaching.factories import BlockFactory, ClientFactory, PlannedExerciseFactory, PlannedSessionFactory

pytestmark = pytest.mark.usefixtures("wednesday")
Run = Callable[..., Outcome]
IN_MARCH = date(2026, 3, 9)


def planned(client: Client) -> Client:
    block = BlockFactory(client=client, label="Block 5", starts_on=IN_MARCH, weeks=2)
    PlannedExerciseFactory(session=PlannedSessionFactory(block=block, suggested_on=IN_MARCH))
    return client


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_one_client_has_two_papers_and_a_workbook(run: Run, client: Client, tmp_path: Path) -> None:
    outcome = run("check_in_pack", "--client", planned(client).key, "--month", "2026-03", "--out", tmp_path / "packs")

    start = f"bo-{client.public_id.hex[:8]}-2026-03-01-to-2026-03-31"
    assert outcome.status == 0
    assert names(tmp_path / "packs") == [f"{start}-mine.pdf", f"{start}-mine.xlsx", f"{start}-theirs.pdf"]
    assert (tmp_path / "packs" / f"{start}-theirs.pdf").read_bytes().startswith(b"%PDF-")
    assert outcome.data == []
    assert outcome.said == [f"{tmp_path / 'packs'}: 1 packs, 3 documents."]


def test_all_means_every_active_client_and_says_of_whom_there_is_nothing(
    run: Run, coach: Coach, client: Client, tmp_path: Path
) -> None:
    planned(client)
    planned(ClientFactory(lead=coach, key="cleo", name="Cleo"))
    ClientFactory(lead=coach, key="dara", joined_on=date(2026, 4, 12))
    ClientFactory(lead=coach, key="gone", state="ended", ended_on=IN_MARCH)

    outcome = run("check_in_pack", "--all", "--out", tmp_path, "--form", "csv")

    assert outcome.status == 0
    assert [name.split("-")[0] for name in names(tmp_path)] == ["bo", "cleo"]
    assert outcome.said[0].startswith("dara: Joined on 12 April 2026")
    assert outcome.said[1:] == [f"{tmp_path}: 2 packs, 2 documents."]


@pytest.mark.parametrize(
    ("asked", "days"),
    [
        (["--block", "block 5"], "2026-03-09-to-2026-03-22"),
        (["--from", "2026-03-09", "--to", "2026-03-10"], "2026-03-09-to-2026-03-10"),
        ([], "2026-03-01-to-2026-03-31"),
    ],
)
def test_the_period_is_a_block_any_two_days_or_last_month(
    run: Run, client: Client, tmp_path: Path, asked: list[str], days: str
) -> None:
    outcome = run("check_in_pack", "--client", planned(client).key, "--out", tmp_path, "--form", "csv", *asked)

    assert outcome.status == 0
    assert [days in name for name in names(tmp_path)] == [True]


def test_only_the_paper_that_was_asked_for_is_written_in_its_size(run: Run, client: Client, tmp_path: Path) -> None:
    planned(client)

    for size in ("a4", "letter"):
        run("check_in_pack", "--client", "bo", "--out", tmp_path / size, "--size", size, "--paper", "theirs",
            "--form", "pdf")  # fmt: skip

    a4, letter = ([path.read_bytes() for path in (tmp_path / size).iterdir()] for size in ("a4", "letter"))
    assert (len(a4), len(letter)) == (1, 1)
    assert a4 != letter


def test_what_was_kept_at_the_desk_is_what_is_written(run: Run, coach: Coach, client: Client, tmp_path: Path) -> None:
    planned(client)
    pack = a_pack(client_id=client.public_id, client_name="As it was kept")
    kept(client, coach, pack, hidden=frozenset({Part.FOUND}))

    run("check_in_pack", "--client", "bo", "--month", "2026-03", "--out", tmp_path, "--form", "csv")

    assert [name.startswith("as-it-was-kept") for name in names(tmp_path)] == [True]


def test_running_again_writes_the_same_in_the_same_place(run: Run, client: Client, tmp_path: Path) -> None:
    planned(client)

    both = []
    for _ in range(2):
        run("check_in_pack", "--client", "bo", "--out", tmp_path, "--form", "csv", "--form", "pdf")
        both.append({path.name: path.read_bytes() for path in tmp_path.iterdir()})

    assert both[0] == both[1]


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--client", "nobody"], "there is no client “nobody”"),
        (["--client", "bo", "--month", "2026-13"], "There is no month 2026-13."),
        (["--client", "bo", "--month", "2026-05"], "still to come"),
        (["--client", "bo", "--block", "Block 99"], "There is no block “Block 99”"),
        (["--client", "bo", "--from", "2026-03-09"], "both its first and its last day"),
        (["--client", "bo", "--month", "2025-01"], "Joined on"),
        (["--all", "--block", "Block 5"], "a block is one client's"),
    ],
)
def test_what_can_not_be_made_is_one_clear_line_and_nothing_is_written(
    run: Run, client: Client, tmp_path: Path, arguments: list[str], told: str
) -> None:
    planned(client)

    outcome = run("check_in_pack", *arguments, "--out", tmp_path / "packs")

    assert outcome.status == 2
    assert len(outcome.said) == 1
    assert told in outcome.said[0]
    assert not (tmp_path / "packs").exists() or names(tmp_path / "packs") == []


def test_a_document_that_can_not_be_put_in_its_place_leaves_no_half_of_it(
    run: Run, client: Client, tmp_path: Path
) -> None:
    in_the_way = tmp_path / f"bo-{client.public_id.hex[:8]}-2026-03-01-to-2026-03-31-mine.csv"
    (in_the_way / "something").mkdir(parents=True)

    outcome = run("check_in_pack", "--client", planned(client).key, "--out", tmp_path, "--form", "csv")

    assert (outcome.status, len(outcome.said)) == (2, 1)
    assert "can't be written" in outcome.said[0]
    assert names(tmp_path) == [in_the_way.name]


def test_a_file_in_the_place_of_the_folder_is_refused(run: Run, client: Client, tmp_path: Path) -> None:
    (tmp_path / "packs").write_text("")

    outcome = run("check_in_pack", "--client", planned(client).key, "--out", tmp_path / "packs")

    assert (outcome.status, len(outcome.said)) == (2, 1)
    assert "can't be made a folder" in outcome.said[0]
