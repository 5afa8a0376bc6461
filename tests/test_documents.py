"""The documents name everything there is, and their commands are the commands."""

from __future__ import annotations

import re
from itertools import chain

import pytest
from django.core.management import get_commands

from coaching.monitoring.fact_shapes import COLUMNS
from coaching.monitoring.models import Kind
from tests.repository import ROOT, name_of, our_files, top_level

README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
FOLDERS = [path.name for path in top_level() if path.is_dir()]
COMMANDS = [name for name, app in get_commands().items() if app == "coaching"]
READ_FROM_ENVIRONMENT = re.compile(r"""(?:env\.\w+\(|environ\.get\(|environ\[)\s*["']([A-Z_]+)["']""")
OF_DJANGO = {"DJANGO_SETTINGS_MODULE"}
SHELL_BLOCK = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
ADDRESS = re.compile(r"`(/[\w/]*)`")


def environment_variables() -> set[str]:
    modules = [path for path in our_files() if name_of(path).startswith("coaching/") and path.suffix == ".py"]
    found = (READ_FROM_ENVIRONMENT.findall(path.read_text(encoding="utf-8")) for path in modules)
    return set(chain.from_iterable(found)) - OF_DJANGO


def shell_blocks() -> list[str]:
    return [text for language, text in SHELL_BLOCK.findall(README) if language == "sh"]


@pytest.mark.parametrize("kind", Kind.values)
def test_the_readme_tells_how_each_finding_is_decided(kind: str) -> None:
    rows = [line for line in README.splitlines() if line.startswith(f"| `{kind}` |")]

    assert len(rows) == 1
    assert len(rows[0]) > 60


@pytest.mark.parametrize("command", COMMANDS)
def test_the_readme_tells_what_each_command_does(command: str) -> None:
    assert re.search(rf"^\|.*`{command}`.*\|", README, re.MULTILINE)


@pytest.mark.parametrize("table", COLUMNS)
def test_the_readme_tells_the_columns_of_each_exported_table(table: str) -> None:
    assert re.search(rf"^\| `{table}` \|[^|]*\| {', '.join(COLUMNS[table])} \|$", README, re.MULTILINE)


def test_the_readme_tells_every_setting_from_the_environment() -> None:
    wanted = environment_variables()

    assert {"MUSTER_HOME", "DATABASE_URL", "SECRET_KEY", "OWNER_PASSWORD"} <= wanted
    assert {name for name in wanted if f"`{name}`" not in README} == set()


def test_the_readme_promises_no_setting_that_nobody_reads() -> None:
    settings = README.split("## Settings")[1].split("\n## ")[0]

    promised = set(re.findall(r"^\| `([A-Z_]+)` \|", settings, re.MULTILINE))

    assert promised == environment_variables() - {"OWNER_PASSWORD"}


@pytest.mark.parametrize("document", [README, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_both_documents_tell_what_each_folder_is_for(document: str) -> None:
    assert {folder for folder in FOLDERS if f"{folder}/" not in document} == set()


def test_the_job_comes_first_in_one_paragraph() -> None:
    title, job, *_ = README.split("\n\n")

    assert title == "# Muster"
    assert job.startswith("Muster is the desk")
    assert "```" not in job


def test_the_first_two_blocks_are_the_demo_and_the_tests_each_complete() -> None:
    assert [language for language, _ in SHELL_BLOCK.findall(README)][:2] == ["sh", "sh"]
    demo, tests = shell_blocks()[:2]

    for command, lock in ((demo, "run"), (tests, "test")):
        lines = command.strip().splitlines()
        assert lines[0] == "python3.11 -m venv .venv &&"
        assert f"--require-hashes --requirement requirements/{lock}.txt" in lines[1]
        assert lines[2].endswith("--no-deps --editable . &&")
        assert all(line.endswith("&&") for line in lines[:-1])
    assert demo.strip().endswith("/python manage.py demo")
    assert tests.strip().endswith("/python -m pytest -n 2")


def test_the_demo_is_said_to_be_as_large_as_it_is() -> None:
    from coaching.management.commands.demo import Command

    defaults = vars(Command().create_parser("manage.py", "demo").parse_args([]))

    assert f"a studio of {defaults['clients']} invented people" in " ".join(README.split())
    assert f"http://127.0.0.1:{defaults['port']}/" in README


@pytest.mark.usefixtures("db")
def test_every_address_in_the_readme_leads_somewhere() -> None:
    from django.test import Client as Browser

    addresses = {address for address in ADDRESS.findall(README) if address.endswith("/")}

    assert {"/", "/turnout/"} <= addresses
    # To the door; the interface for programs says in words of its own that nobody is signed in.
    assert {Browser().get(address).status_code for address in addresses} <= {302, 401}


def test_cautions_stand_where_somebody_might_rely_on_it() -> None:
    assert "Muster is not medical software, and nobody watches it live" in README
    assert "your local emergency number" in README


@pytest.mark.parametrize("path", re.findall(r"\]\(([^)]+)\)", README))
def test_every_picture_and_page_that_the_readme_leads_to_is_there(path: str) -> None:
    assert (ROOT / path).is_file()


@pytest.mark.parametrize("name", sorted(set(re.findall(r"`((?:[\w.]+/)*\w+\.(?:py|html))`", DEVELOPERS))))
def test_every_module_that_the_developers_page_names_is_there(name: str) -> None:
    assert [path for path in our_files() if name_of(path).endswith(f"/{name}") or name_of(path) == name] != []
