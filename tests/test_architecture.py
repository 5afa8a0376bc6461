"""The picture of the architecture in DEVELOPERS.md shows what the contract allows and the code does."""

from __future__ import annotations

import re
import tomllib
from functools import cache

import grimp

from tests.repository import ROOT

# `name["package<br>words"]` where it comes up first; `one & another --> third & fourth`, dotted for names in strings.
BOX = re.compile(r'(\w+)\["([\w.]+)[^"]*"\]')
ARROWS = re.compile(r"^ *([\w& ]+?) (-->|-\.->) ([\w& ]+)$", re.MULTILINE)
TOP_PACKAGES = ["analytics", "coaching", "roster"]


def layers() -> list[list[set[str]]]:
    """Of each contract its layers from the highest down, each with the packages that stand side by side."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    contracts = [one for one in project["tool"]["importlinter"]["contracts"] if one["type"] == "layers"]
    return [[set(layer.split(" : ")) for layer in contract["layers"]] for contract in contracts]


def packages() -> set[str]:
    """Those of all contracts; the record stands for itself where it is shown by its parts."""
    return {name for contract in layers() for layer in contract for name in layer} - {"roster"}


def picture() -> str:
    return (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").split("```mermaid\n")[1].split("```")[0]


def boxes() -> dict[str, str]:
    return dict(BOX.findall(picture()))


def arrows(kind: str = "-->") -> set[tuple[str, str]]:
    named = boxes()
    return {
        (named[source.strip()], named[target.strip()])
        for sources, arrow, targets in ARROWS.findall(BOX.sub(r"\1", picture()))
        if arrow == kind
        for source in sources.split("&")
        for target in targets.split("&")
    }


def package_of(module: str) -> str:
    """The longest name among the packages that a module lies in."""
    return max((name for name in packages() if f"{module}.".startswith(f"{name}.")), key=len, default=module)


@cache
def imports() -> frozenset[tuple[str, str]]:
    """Which package imports which, wherever in a module it does."""
    graph = grimp.build_graph(*TOP_PACKAGES, cache_dir=None)
    pairs = (
        (package_of(module), package_of(imported))
        for module in graph.modules
        for imported in graph.find_modules_directly_imported_by(module)
    )
    return frozenset(pair for pair in pairs if pair[0] != pair[1])


def is_allowed(source: str, target: str) -> bool:
    """Whether in one of the contracts the source lies in a higher layer, itself or as a part of what does."""

    def level(name: str, contract: list[set[str]]) -> int | None:
        found = [place for place, layer in enumerate(contract) if layer & {name, name.split(".")[0]}]
        return found[0] if found else None

    levels = [(level(source, contract), level(target, contract)) for contract in layers()]
    return any(high is not None and low is not None and high < low for high, low in levels)


def reached_from(source: str, drawn: set[tuple[str, str]]) -> set[str]:
    found, waiting = set(), [source]
    while waiting:
        here = waiting.pop()
        further = {target for start, target in drawn if start == here} - found
        found |= further
        waiting += further
    return found


def test_every_part_of_the_desk_and_the_record_has_its_layer() -> None:
    parts = {
        f"{top}.{path.stem}"
        for top in ("coaching", "roster")
        for path in (ROOT / top).iterdir()
        if path.suffix == ".py" or (path / "__init__.py").exists()
    }

    assert parts - {"coaching.__init__", "roster.__init__"} | {"analytics"} == packages()


def test_the_picture_shows_every_package_of_the_contract_and_no_other() -> None:
    assert sorted(boxes().values()) == sorted(packages())


def test_every_arrow_is_allowed() -> None:
    drawn = arrows() | arrows("-.->")

    assert drawn
    assert {arrow for arrow in drawn if not is_allowed(*arrow)} == set()


def test_every_arrow_is_an_import_and_every_import_follows_from_arrows() -> None:
    drawn = arrows()

    assert drawn - imports() == set()
    assert {(source, target) for source, target in imports() if target not in reached_from(source, drawn)} == set()
