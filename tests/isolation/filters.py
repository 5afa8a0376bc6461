"""Finds every place in which the product asks whose something is, and what it would be without asking.

A place is a call of `visible_to` or `changeable_by`; a condition of a query that names a person, a studio or, where
requests are answered, a client; a part of what those rules themselves consist of; and a guard that a view calls.
"""

from __future__ import annotations

import ast
import copy
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

from tests.repository import ROOT

RULES = {"visible_to", "changeable_by"}
# Conditions on whose a row is, and on the client where rows are read for somebody who asks.
OF_SOMEBODY = re.compile(r"(.+__)?(studio|user|coach|by|lead|covering)(_id)?(__in)?")
OF_A_CLIENT = re.compile(r"(.+__)?client(_id)?(__in)?")
ANSWERING = ("coaching/desk/", "coaching/api/", "coaching/monitoring/reading.py", "coaching/monitoring/fact_pages.py",
             "coaching/monitoring/client_reading.py", "coaching/monitoring/acts.py")  # fmt: skip
QUERIES = {"filter", "get", "get_object_or_404", "exclude"}
GUARDS = {"_refuse_readers", "_refuse_unreachable"}
Change = Callable[[ast.AST], ast.AST | None]


class Mutant(NamedTuple):
    """`function` is the dotted name, in its module, of the function that `code` changes."""

    path: str
    line: int
    function: str
    what: str
    tree: ast.Module

    def __str__(self) -> str:
        return f"{self.path}:{self.line} {self.function}: {self.what}"


def find_mutants() -> list[Mutant]:
    return [mutant for path in _modules() for mutant in _of_module(path)]


def _modules() -> Iterator[Path]:
    for package in ("coaching", "roster"):
        yield from (path for path in sorted((ROOT / package).rglob("*.py")) if "migrations" not in path.parts)


def _of_module(path: Path) -> Iterator[Mutant]:
    name = path.relative_to(ROOT).as_posix()
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for function, node, within in _nodes(tree, (), ()):
        for what, change in _changes(node, name, within):
            yield Mutant(name, node.lineno, function, what, _changed(tree, node, change))


def _nodes(node: ast.AST, names: tuple[str, ...], within: tuple[str, ...]) -> Iterator[tuple[str, ast.AST, str]]:
    """Each node in a function, with the outermost function that holds it and the innermost."""
    for child in ast.iter_child_nodes(node):
        is_function = isinstance(child, ast.FunctionDef)
        if is_function or isinstance(child, ast.ClassDef):
            yield from _nodes(child, (*names, child.name) if not within else names,
                              (*within, child.name) if is_function else within)  # fmt: skip
            continue
        if within:
            yield ".".join(names), child, within[-1]
        yield from _nodes(child, names, within)


def _changes(node: ast.AST, path: str, within: str) -> Iterator[tuple[str, Change]]:
    if isinstance(node, ast.Call):
        yield from _of_call(node, path, within)
    if _is_rule(within, path) and isinstance(node, ast.Call) and _called(node) == "none":
        yield "gives all instead of none", lambda call: _as_method(call, "all")
    if within == "may_load" and isinstance(node, ast.BoolOp):
        for number, value in enumerate(node.values):
            yield f"without “{ast.unparse(value)}”", _without_value(number)
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Call) and _called(node.value) in GUARDS:
        yield f"without {_called(node.value)}", lambda expression: ast.copy_location(ast.Pass(), expression)


def _of_call(call: ast.Call, path: str, within: str) -> Iterator[tuple[str, Change]]:
    called = _called(call)
    if called in RULES and isinstance(call.func, ast.Attribute):
        yield f"all instead of {called}", lambda node: _as_method(node, "all")
        if called == "changeable_by":
            yield "visible_to instead of changeable_by", lambda node: _renamed(node, "visible_to")
    if called not in QUERIES:
        return
    is_rule = _is_rule(within, path)
    for number, keyword in enumerate(call.keywords):
        if is_rule or _asks_whose(keyword.arg or "", path):
            yield f"without {ast.unparse(keyword)}", _without_keyword(number)
    if is_rule and call.args and isinstance(call.func, ast.Attribute):
        yield f"without {ast.unparse(call.args[0])}", lambda node: node.func.value  # type: ignore[attr-defined]


def _is_rule(within: str, path: str) -> bool:
    return within in RULES | {"only_visible"} or (within, path) == ("people_of", "coaching/desk/roster.py")


def _asks_whose(name: str, path: str) -> bool:
    return bool(OF_SOMEBODY.fullmatch(name) or (path.startswith(ANSWERING) and OF_A_CLIENT.fullmatch(name)))


def _called(call: ast.Call) -> str:
    return call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")


def _as_method(call: ast.AST, name: str) -> ast.AST:
    renamed = _renamed(call, name)
    renamed.args, renamed.keywords = [], []
    return renamed


def _renamed(call: ast.AST, name: str) -> ast.Call:
    assert isinstance(call, ast.Call)
    assert isinstance(call.func, ast.Attribute)
    call.func.attr = name
    return call


def _without_keyword(number: int) -> Change:
    def change(call: ast.AST) -> ast.AST:
        del call.keywords[number]  # type: ignore[attr-defined]
        return call

    return change


def _without_value(number: int) -> Change:
    def change(operation: ast.AST) -> ast.AST:
        del operation.values[number]  # type: ignore[attr-defined]
        return operation.values[0] if len(operation.values) == 1 else operation  # type: ignore[attr-defined]

    return change


class _Changing(ast.NodeTransformer):
    def __init__(self, wanted: int, change: Change) -> None:
        self.wanted, self.change, self.met = wanted, change, -1

    def visit(self, node: ast.AST) -> ast.AST | None:
        self.met += 1
        if self.met == self.wanted:
            self.wanted = -1
            return self.change(node)
        return self.generic_visit(node)


def _changed(tree: ast.Module, node: ast.AST, change: Change) -> ast.Module:
    """A copy of the tree in which that node is changed."""
    numbered = _Numbering(node)
    numbered.visit(tree)
    fresh = copy.deepcopy(tree)
    changed = _Changing(numbered.found, change).visit(fresh)
    assert isinstance(changed, ast.Module)
    return ast.fix_missing_locations(changed)


class _Numbering(ast.NodeVisitor):
    """How many nodes a transformer meets before this one."""

    def __init__(self, wanted: ast.AST) -> None:
        self.wanted, self.met, self.found = wanted, -1, -1

    def visit(self, node: ast.AST) -> None:
        self.met += 1
        if node is self.wanted:
            self.found = self.met
        self.generic_visit(node)
