"""What goes out in tables and comes in in files stays within its studio."""

from __future__ import annotations

from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from roster.blocks.models import Block
from roster.logs.models import SessionLog
from roster.people.models import Client
from tests.isolation.world import World

TABLES = ("sessions", "weeks", "exposures", "flags")
FILES = {
    "load_blocks": "client,block,starts_on,week,day,exercise,sets,reps\n{key},Block,2026-04-20,1,mon,Row,3,8\n",
    "load_logs": "client,performed_on,exercise,set,reps\n{key},2026-04-14,Row,1,8\n",
}


@pytest.mark.parametrize("table", TABLES)
@pytest.mark.parametrize("form", ["csv", "json"])
def test_a_table_holds_nothing_of_another_studio(world: World, table: str, form: str, tmp_path: Path) -> None:
    out = tmp_path / table

    call_command("export", table, studio="fernmoss studio", format=form, out=out)

    assert "quillwort" in out.read_text()
    assert [word for word in ("bladderwort", "bogmoss") if word in out.read_text()] == []


@pytest.mark.parametrize("table", TABLES)
def test_a_table_of_another_studios_client_is_refused(world: World, table: str) -> None:
    with pytest.raises(CommandError, match=r"there is no client “bladderwort\.key” in the studio “fernmoss studio”"):
        call_command("export", table, studio="fernmoss studio", client="bladderwort.key")


@pytest.mark.parametrize("command", FILES)
def test_a_file_reaches_no_client_of_another_studio(
    world: World, command: str, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    """ASVS 5.0 8.4.1"""
    file = tmp_path / "file.csv"
    file.write_text(FILES[command].format(key="bladderwort.key"))

    with pytest.raises(CommandError, match="1 fault"):
        call_command(command, str(file), studio="fernmoss studio")

    assert "bladderwort name" not in capfd.readouterr().err
    assert (Block.objects.count(), SessionLog.objects.count()) == (3, 3)


def test_a_key_that_another_studio_uses_too_names_ones_own_client(world: World, tmp_path: Path) -> None:
    file = tmp_path / "clients.csv"
    file.write_text("client,name,joined_on\nbladderwort.key,Another Person,2026-04-01\n")

    call_command("load_clients", str(file), studio="fernmoss studio")

    names = Client.objects.filter(key="bladderwort.key").values_list("studio__name", "name")
    assert set(names) == {("bogmoss studio", "bladderwort name"), ("fernmoss studio", "Another Person")}
