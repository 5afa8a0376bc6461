"""What this repository promises of itself."""

from __future__ import annotations

import re
import socket
import tomllib

import pytest

from tests.repository import LOCKS, ROOT, is_ignored, name_of, our_files, top_level

TOP_LEVEL = {
    "README.md", "DEVELOPERS.md", "LICENSE", "manage.py", "pyproject.toml", ".gitignore", ".gitattributes", ".ci",
    "coaching", "roster", "analytics", "templates", "tests", "fixtures", "requirements",
}  # fmt: skip
MOST_LINES = 400
MIGRATIONS = "/migrations/"
# Put together here, so that this file does not hold them itself.
LEFT_BEHIND = ["TO" + "DO", "FIX" + "ME", "X" * 3]
REGISTRIES = ["py" + "pi.org", "python" + "hosted.org", "npm" + "js.org", "npm" + "js.com", "index" + "-url"]
NAMES_THAT_SAY_NOTHING = {"utils", "util", "helpers", "helper", "common", "misc", "base"}
# The framework looks for a database backend under this name.
NAMED_BY_THE_FRAMEWORK = {"coaching/databases/sqlite/base.py", "coaching/databases/postgresql/base.py"}
REQUIREMENT = re.compile(r"^([A-Za-z0-9_.-]+)(?:\[[a-z,]+\])?(==\S+)(?: ; .+)? \\$", re.MULTILINE)


def locked(lock: str) -> dict[str, str]:
    """Packages with their version, each with its name alone."""
    lines = REQUIREMENT.finditer((ROOT / lock).read_text(encoding="utf-8"))
    return {match[1].lower() + match[2]: match[1].lower() for match in lines}


def wanted(group: str | None = None) -> set[str]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    lines = project["optional-dependencies"][group] if group else project["dependencies"]
    return {re.split(r"[<>=\[]", line)[0].lower() for line in lines}


def test_the_top_level_is_the_agreed_one() -> None:
    assert {path.name for path in top_level()} == TOP_LEVEL


def test_no_file_is_longer_than_one_reads_in_a_sitting() -> None:
    lengths = {name_of(path): len(path.read_text(encoding="utf-8").splitlines()) for path in our_files()}

    too_long = {name: length for name, length in lengths.items() if length > MOST_LINES}
    assert too_long.keys() <= set(LOCKS)


@pytest.mark.parametrize("word", LEFT_BEHIND)
def test_nothing_is_left_to_be_done(word: str) -> None:
    found = [name_of(path) for path in our_files() if re.search(rf"\b{word}\b", path.read_text(encoding="utf-8"))]

    assert found == []


@pytest.mark.parametrize("host", REGISTRIES)
def test_no_file_names_where_packages_come_from(host: str) -> None:
    assert [name_of(path) for path in our_files() if host in path.read_text(encoding="utf-8")] == []


def test_every_module_is_named_for_what_it_holds() -> None:
    modules = [path for path in our_files() if path.suffix == ".py"]

    empty_names = [name_of(path) for path in modules if {path.stem, path.parent.name} & NAMES_THAT_SAY_NOTHING]

    assert set(empty_names) == NAMED_BY_THE_FRAMEWORK


def test_every_folder_of_tests_is_a_package() -> None:
    folders = {path.parent for path in our_files() if path.suffix == ".py" and name_of(path).startswith("tests/")}

    assert [name_of(folder) for folder in folders if not (folder / "__init__.py").exists()] == []


def test_no_test_is_left_out_but_where_the_machine_lacks_what_it_needs() -> None:
    modules = [path for path in our_files() if name_of(path).startswith("tests/") and path.suffix == ".py"]

    skipping = re.compile("|".join(("mark" + ".skip", "mark" + ".xfail", "pytest" + ".skip", "importor" + "skip")))
    found = {name_of(path): skipping.findall(path.read_text(encoding="utf-8")) for path in modules}

    assert {name: words for name, words in found.items() if words} == {"tests/machine.py": ["pytest" + ".skip"]}


@pytest.mark.parametrize("lock", LOCKS)
def test_every_locked_package_has_its_hashes(lock: str) -> None:
    """ASVS 5.0 15.1.2"""
    blocks = re.split(r"\n(?=\S)", (ROOT / lock).read_text(encoding="utf-8").strip())

    assert len(blocks) == len(locked(lock))
    assert all("--hash=sha256:" in block for block in blocks)


def test_the_locks_hold_what_the_project_asks_for_and_agree() -> None:
    run, server, test = (locked(lock) for lock in LOCKS)

    assert wanted() <= set(run.values())
    assert wanted("postgres") <= set(server.values())
    assert wanted("test") | wanted("postgres") <= set(test.values())
    assert run.keys() <= server.keys() <= test.keys()


def test_every_dependency_has_its_reason() -> None:
    project = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    lines = project.split("dependencies = [")[1].split("\n]")[0].splitlines()
    asked = [number for number, line in enumerate(lines) if line.strip().startswith('"')]

    assert [lines[number] for number in asked if not lines[number - 1].strip().startswith("#")] == []


def test_what_is_made_here_is_not_kept() -> None:
    assert all(is_ignored(name) for name in (".venv", "var", "muster.egg-info", "__pycache__", ".pytest_cache"))


def test_a_test_that_reaches_for_the_network_fails() -> None:
    with socket.socket() as reaching, pytest.raises(RuntimeError, match=r"a test reaches for 192\.0\.2\.1"):
        reaching.connect(("192.0.2.1", 80))
