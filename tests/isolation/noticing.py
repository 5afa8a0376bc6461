"""What a mutant is held to: a part of the walk, the likeliest first, and the checks beside it, up to the first leak."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import SupportsIndex

from tests.isolation import apart, beside
from tests.isolation.grants import PROGRAMS, SESSIONS, Caller
from tests.isolation.walking import Walk
from tests.isolation.world import World

# Between them they stand before every wall: of another studio, of the same, who reads, who belongs nowhere.
WATCHING = ("colleague", "assistant", "coach elsewhere", "support", "lead", "owner elsewhere", "disabled lead")


class Noticed(Exception):
    pass


class FirstLeak(list[str]):
    """A walk's leaks, which end it."""

    def append(self, leak: str) -> None:
        raise Noticed(leak)

    def __iadd__(self, leaks: Iterable[str]) -> FirstLeak:  # type: ignore[override, misc]
        for leak in leaks:
            raise Noticed(leak)
        return self

    def insert(self, index: SupportsIndex, leak: str) -> None:
        raise Noticed(leak)


def notice(world: World, path: str) -> Iterator[str]:
    walk = Walk.through(world)
    walk.leaks, walk.is_short = FirstLeak(), True
    for step in _steps(world, walk, path):
        try:
            leaks = step()
        except Noticed as noticed:
            yield str(noticed)
        else:
            yield from leaks or ()


def _steps(world: World, walk: Walk, path: str) -> list[Callable[[], Iterable[str] | None]]:
    desk = [_walking(walk.desk, caller) for caller in _watching(SESSIONS)]
    programs = [_walking(walk.programs, caller) for caller in _watching(PROGRAMS)]
    about_files = [_checking(check, walk) for check in beside.CHECKS]
    about_others = [_checking(check, walk) for check in apart.CHECKS]
    if path.startswith("coaching/api/"):
        return [*programs, *desk, *about_others, *about_files]
    if path.startswith(("coaching/desk/", "coaching/monitoring/", "roster/people/models/")):
        return [*desk, *about_others, *programs, *about_files]
    if path.startswith("coaching/demo/"):
        return [*about_others, *about_files, *desk, *programs]
    return [*about_files, *about_others, *desk, *programs]


def _watching(callers: list[Caller]) -> list[Caller]:
    """In the order of WATCHING; of programs those with a whole token."""
    whole = [one for one in callers if one.by in {"session", "token"} and one.who in WATCHING]
    return sorted(whole, key=lambda caller: WATCHING.index(caller.who))


def _walking(walk: Callable[[Caller], None], caller: Caller) -> Callable[[], None]:
    return lambda: walk(caller)


def _checking(check: Callable[[Walk], Iterable[str]], walk: Walk) -> Callable[[], Iterable[str]]:
    return lambda: check(walk)
