"""`python -m tests.isolation.mutants` takes each question of whose something is out of the product, one at a time, and
asks whether the walk and the other checks notice.

Nothing is changed on disk: each mutant is the code of one function, put into the place of its own in a child process
that ends with it. A child has the whole product and a world of its own in memory; it is a copy of its parent's.
"""

from __future__ import annotations

import argparse
import importlib
import logging
import os
import sys
import time
from collections.abc import Iterator
from types import CodeType, FunctionType
from typing import Any, NamedTuple

from tests.isolation.alone import in_a_world
from tests.isolation.filters import Mutant, find_mutants
from tests.isolation.walls import WALLS

CAUGHT, SURVIVED, BROKEN = 0, 3, 4


class Verdict(NamedTuple):
    mutant: Mutant
    status: int
    seconds: float
    by: str


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.isolation.mutants")
    parser.add_argument("--only", default="", metavar="TEXT", help="those whose line holds this text")
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1, metavar="N", help="how many at a time")
    arguments = parser.parse_args()
    chosen = [mutant for mutant in find_mutants() if arguments.only in str(mutant)]
    with in_a_world() as world:
        from django.db import transaction

        from tests.isolation.noticing import notice

        logging.disable()
        with transaction.atomic():
            before = _first_line(lambda: notice(world, ""))
            transaction.set_rollback(True)
        if before:
            print(f"without any mutant already: {before}")
            return 1
        verdicts = [_told(verdict) for verdict in _try_all(chosen, world, notice, arguments.jobs)]
    return _summary(verdicts)


def _first_line(ask: Any) -> str:
    return next(iter(ask()), "")


def _try_all(mutants: list[Mutant], world: Any, notice: Any, jobs: int) -> Iterator[Verdict]:
    """As many at a time as there are jobs, each in a child of its own."""
    waiting, running = list(reversed(mutants)), {}
    while waiting or running:
        while waiting and len(running) < jobs:
            mutant = waiting.pop()
            child, reading = _start(mutant, world, notice)
            running[child] = (mutant, reading, time.perf_counter())
        child, how = os.wait()
        mutant, reading, started = running.pop(child)
        with os.fdopen(reading, "rb") as told:
            by = told.read().decode(errors="replace")
        yield Verdict(mutant, os.waitstatus_to_exitcode(how), time.perf_counter() - started, by)


def _start(mutant: Mutant, world: Any, notice: Any) -> tuple[int, int]:
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        status, by = _in_the_child(mutant, world, notice)
        os.write(writing, by.encode()[:4000])
        os._exit(status)
    os.close(writing)
    return child, reading


def _in_the_child(mutant: Mutant, world: Any, notice: Any) -> tuple[int, str]:
    try:
        put_in_place(mutant)
    except Exception as error:
        return BROKEN, repr(error)
    try:
        by = _first_line(lambda: notice(world, mutant.path))
    except Exception as error:
        return CAUGHT, f"fails with {error!r}"
    return (CAUGHT, by) if by else (SURVIVED, "")


def put_in_place(mutant: Mutant) -> None:
    compiled = compile(mutant.tree, mutant.path, "exec")
    code = next(found for found in _codes(compiled) if found.co_qualname == mutant.function)
    live = _live(mutant)
    assert live.__code__.co_name == code.co_name
    live.__code__ = code


def _codes(code: CodeType) -> Iterator[CodeType]:
    for constant in code.co_consts:
        if isinstance(constant, CodeType):
            yield constant
            yield from _codes(constant)


def _live(mutant: Mutant) -> FunctionType:
    module = importlib.import_module(mutant.path.removesuffix(".py").replace("/", "."))
    found: Any = module
    for name in mutant.function.split("."):
        found = vars(found)[name]
    found = getattr(found, "__func__", getattr(found, "fget", found))
    while hasattr(found, "__wrapped__"):
        found = found.__wrapped__
    assert isinstance(found, FunctionType)
    return found


def _told(verdict: Verdict) -> Verdict:
    wall = WALLS.get(f"{verdict.mutant.path} {verdict.mutant.function}: {verdict.mutant.what}")
    words = {CAUGHT: "caught", SURVIVED: "NOT CAUGHT", BROKEN: "BROKEN"}.get(verdict.status, "caught, by its end")
    behind = f"; another wall: {wall}" if wall and verdict.status == SURVIVED else ""
    print(f"{words:10} {verdict.seconds:5.1f} s  {verdict.mutant}  {verdict.by[:140]}{behind}", flush=True)
    return verdict


def _summary(verdicts: list[Verdict]) -> int:
    survived = [verdict for verdict in verdicts if verdict.status in {SURVIVED, BROKEN}]
    names = [f"{one.mutant.path} {one.mutant.function}: {one.mutant.what}" for one in survived]
    behind = [name for name in names if name in WALLS]
    caught = len(verdicts) - len(survived)
    missed = len(survived) - len(behind)
    print(f"{len(verdicts)} mutants: {caught} caught, {len(behind)} behind another wall, {missed} not caught")
    needless = [wall for wall in WALLS if wall not in names] if len(verdicts) == len(find_mutants()) else []
    for wall in needless:
        print(f"caught although a wall is told: {wall}")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
