"""The table of OWASP's ASVS 5.0 in SECURITY.md beside: each requirement that is held names tests that cite it.

Source of the numbers: OWASP/ASVS, 5.0/en, commit fe04986146b0db0a54d3eb2b9c755c78874ce910 of 19 July 2026.
"""

from __future__ import annotations

import re

from tests.repository import ROOT, name_of, our_files

ROW = re.compile(r"^\| (\d+\.\d+\.\d+(?:, \d+\.\d+\.\d+)*) \| [^|]+ \| ([^|]+) \|$", re.MULTILINE)
CITED = re.compile(r"ASVS 5\.0 ([^\n]+)")
NUMBER = re.compile(r"\b\d+\.\d+\.\d+\b")
HELD_TO = 98
SQL_FROM_TEXT = re.compile(r"\.raw\(|\.extra\(|RawSQL|execute\((?:f[\"']|[^)]*[%+] )|executescript")


def rows() -> list[tuple[str, str]]:
    """Each requirement with what holds it."""
    found = ROW.findall((ROOT / "tests" / "SECURITY.md").read_text(encoding="utf-8"))
    return [(number, held.strip()) for numbers, held in found for number in NUMBER.findall(numbers)]


def named(held: str) -> list[str]:
    return re.findall(r"`([\w/]+\.py)`", held)


def cited() -> dict[str, set[str]]:
    """Requirements with the tests that cite them."""
    found: dict[str, set[str]] = {}
    for path in our_files():
        if name_of(path).startswith("tests/") and path.suffix == ".py":
            for words in CITED.findall(path.read_text(encoding="utf-8")):
                for number in NUMBER.findall(words):
                    found.setdefault(number, set()).add(name_of(path))
    return found


def test_every_requirement_stands_once() -> None:
    numbers = [number for number, _ in rows()]

    assert len(numbers) == len(set(numbers)) == HELD_TO


def test_a_requirement_that_is_held_is_cited_by_every_test_that_is_named() -> None:
    citing = cited()

    astray = {
        number: [name for name in named(held) if not any(path.endswith(name) for path in citing.get(number, ()))]
        for number, held in rows()
    }

    assert {number: names for number, names in astray.items() if names} == {}


def test_a_requirement_without_tests_says_when_or_why_not() -> None:
    without = {number: held for number, held in rows() if not named(held)}

    assert {number: held for number, held in without.items() if not held.startswith(("Later:", "Not held:"))} == {}
    assert without.keys() & cited().keys() == set(), "a test cites it: name that test in the table"


def test_no_test_cites_a_requirement_that_the_table_leaves_out() -> None:
    assert cited().keys() - dict(rows()).keys() == set()


def test_no_question_to_the_database_is_put_together_from_text() -> None:
    """ASVS 5.0 1.2.4: but for the names of settings that the backends read back: no place-holder stands for those."""
    modules = {name_of(path): path for path in our_files() if path.suffix == ".py"}
    ours = {name: path for name, path in modules.items() if name.startswith(("coaching/", "roster/"))}
    put_together = [name for name, path in ours.items() if SQL_FROM_TEXT.search(path.read_text(encoding="utf-8"))]

    assert put_together == ["coaching/databases/sqlite/base.py"]
