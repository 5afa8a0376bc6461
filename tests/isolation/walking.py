"""Every address and operation with every kind of object as everybody, held to the tables of `grants`.

What may not be seen answers as an id of nothing does, to the letter and to the header; nothing that anybody gets, pages
that refuse included, holds a word or an id of what is hidden from them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID

from tests.isolation.asking import Answer, Asking
from tests.isolation.forms import DESK_FORMS, PROGRAM_FORMS, STATE_MET
from tests.isolation.grants import API, DESK, LOADS_FILES, NOTHING_IS_HERE, PROGRAMS, SESSIONS, Caller, Place
from tests.isolation.objects import NO_ID, Thing, may, things_of
from tests.isolation.routes import Route
from tests.isolation.world import World

METHODS = ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS")
# Who asks the interface for programs with the session of the desk.
WITH_A_SESSION = ("lead", "assistant", "colleague", "owner elsewhere", "support", "disabled lead", "signed out")
# Of addresses that name nobody's row: the id of nothing will do.
BESIDE = {"uidb36": "1", "key": "x-y", "token": NO_ID, "rest": "nowhere/", "kind": "stall", "document": "csv"}
DESK_QUESTIONS = (
    "/?whose=all", "/turnout/?whose=all", "/clients/?q=wort&state=all", "/clients/?state=ended&as_of=2026-04-14",
)  # fmt: skip
# Of the interface for programs; those that can be asked as at a day are.
LISTS = (
    "clients", "blocks", "planned-sessions", "session-logs", "weeks", "exposures", "flags", "turnout", "check-in-packs",
)  # fmt: skip
FILTERS: dict[str, dict[str, str]] = {
    **{name: {"client": "client"} for name in LISTS},
    "session-logs": {"client": "client", "block": "block", "planned_session": "planned session"},
    "exposures": {"client": "client", "block": "block", "exercise": "exercise"},
}
NOBODY = Thing("nothing", "", NO_ID)
V1 = "api/v1/"


@dataclass
class Walk:
    """`leaks` tells in words what was answered otherwise than the tables say."""

    asking: Asking
    things: list[Thing]
    leaks: list[str] = field(default_factory=list)
    # Leaves out ids of other kinds and methods that an address doesn't take.
    is_short: bool = False
    _hidden: dict[Caller, set[str]] = field(default_factory=dict)

    @classmethod
    def through(cls, world: World) -> Walk:
        return cls(Asking(world), things_of(world))

    def desk(self, caller: Caller) -> None:
        for pattern, place in DESK.items():
            self._place(caller, pattern, place)
        for address in DESK_QUESTIONS:
            self.check_words(caller, address, self.asking(caller, "GET", address))

    def programs(self, caller: Caller) -> None:
        for pattern, place in API.items():
            self._place(caller, V1 + pattern, place)
        self._filters(caller)
        for pattern in NOTHING_IS_HERE:
            self._place(caller, pattern, Place(for_whom="nobody"))

    def _filters(self, caller: Caller) -> None:
        """Ids of what is hidden, as filters of every list: as if nobody had them; and days that are computed."""
        for name in LISTS:
            self.check_words(caller, name, self.asking(caller, "GET", f"/{V1}{name}/?as_of=2026-04-14"))
            self.check_words(caller, name, self.asking(caller, "GET", f"/{V1}{name}/?limit=1"))
        for name, filters in FILTERS.items():
            for asked, kind in filters.items():
                self._filter(caller, f"/{V1}{name}/?{asked}=", kind)

    def _filter(self, caller: Caller, address: str, kind: str) -> None:
        nothing = self.asking(caller, "GET", f"{address}{NO_ID}")
        for thing in self.things:
            if thing.kind == kind and may(caller.who, thing) == "-":
                told = self.asking(caller, "GET", f"{address}{thing.ident}")
                if told.but_for(thing.ident) != nothing.but_for(NO_ID):
                    self.leaks.append(f"{caller}: {address} of {thing.column} is told from nothing")

    def _place(self, caller: Caller, pattern: str, place: Place) -> None:
        shown = [thing for thing in self.things if thing.kind == place.names] or [NOBODY]
        for method in sorted(place.methods):
            self._ask_about_each(caller, pattern, place, method, shown)
        for method in METHODS:
            if method not in place.methods and not self.is_short:
                self._ask_otherwise(caller, pattern, place, shown[0], method)

    def _ask_about_each(self, caller: Caller, pattern: str, place: Place, method: str, shown: list[Thing]) -> None:
        of_others = [*self._of_other_kinds(place.names), NOBODY] if place.names else []
        of_others = of_others[-1:] if self.is_short else of_others
        told = {thing: self._ask_and_check(caller, pattern, place, method, thing) for thing in [*shown, *of_others]}
        for thing, answer in told.items():
            is_nothing = place.names and 404 in expected(caller, pattern, place, method, thing)
            if is_nothing and answer.but_for(named(pattern, thing)) != told[NOBODY].but_for(named(pattern, NOBODY)):
                self.leaks.append(f"{caller}: {method} {pattern} tells {thing.kind} {thing.column} from nothing")

    def _ask_and_check(self, caller: Caller, pattern: str, place: Place, method: str, thing: Thing) -> Answer:
        answer = self._ask(caller, pattern, place, thing, method)
        wanted = expected(caller, pattern, place, method, thing)
        self._check(caller, f"{method} {pattern} of {thing.kind} {thing.column}", answer, wanted, thing)
        return answer

    def _ask_otherwise(self, caller: Caller, pattern: str, place: Place, thing: Thing, method: str) -> None:
        answer = self._ask(caller, pattern, place, thing, method)
        self._check(caller, f"{method} {pattern}", answer, expected(caller, pattern, place, method, thing), thing)
        if method == "HEAD" and answer.body:
            self.leaks.append(f"{caller}: HEAD {pattern} has a body")

    def _ask(self, caller: Caller, pattern: str, place: Place, thing: Thing, method: str) -> Answer:
        ident = dict.fromkeys(("public_id", "file_id", "load_id", "pk"), named(pattern, thing))
        address = Route(pattern).address(BESIDE | thing.beside | ident)
        body = None
        if method == "POST":
            is_program = pattern.startswith(V1)
            body = (PROGRAM_FORMS if is_program else DESK_FORMS).get(pattern, {})
        return self.asking(caller, method, address, body, STATE_MET if pattern.startswith(V1) else None)

    def _check(self, caller: Caller, what: str, answer: Answer, wanted: set[Any], thing: Thing) -> None:
        got = "door" if answer.is_at_the_door else answer.status
        if got not in wanted:
            self.leaks.append(f"{caller}: {what}: {got} where {sorted(map(str, wanted))} was wanted")
        self.check_words(caller, what, answer, asked=str(thing.ident))

    def check_words(self, caller: Caller, what: str, answer: Answer, asked: str = "") -> None:
        told = answer.whole.replace(asked, "") if asked else answer.whole
        self.leaks += [f"{caller}: {what} shows {word}" for word in self.hidden(caller) if word in told]

    def hidden(self, caller: Caller) -> set[str]:
        """Words and ids of whatever this caller may not see."""
        if caller not in self._hidden:
            self._hidden[caller] = self._hidden_words(caller)
        return self._hidden[caller]

    def _hidden_words(self, caller: Caller) -> set[str]:
        shown: set[str] = set()
        hidden: set[str] = set()
        for thing in self.things:
            is_hidden = not caller.is_let_in or may(caller.who, thing) == "-"
            (hidden if is_hidden else shown).update({*thing.words, *_ids(thing)})
        return hidden - shown

    def _of_other_kinds(self, kind: str) -> Iterator[Thing]:
        met = {kind}
        for thing in self.things:
            if thing.kind not in met and isinstance(thing.ident, UUID):
                met.add(thing.kind)
                yield thing


def _ids(thing: Thing) -> set[str]:
    return {str(thing.ident)} if isinstance(thing.ident, UUID) else set()


def named(pattern: str, thing: Thing) -> UUID | int:
    """As the address names it: where it counts its rows, an id of another kind is some number."""
    is_number = isinstance(thing.ident, int) or "<int:pk>" not in pattern
    return thing.ident if is_number else thing.ident.int % 1_000_000_007


def expected(caller: Caller, pattern: str, place: Place, method: str, thing: Thing) -> set[Any]:
    """The statuses that the tables allow."""
    if place.for_whom == "nobody":
        return {404}
    if pattern.startswith(V1) and pattern != f"{V1}docs/":
        return _of_program(caller, place, method, thing)
    return _at_the_desk(caller, pattern, place, method, thing)


def _at_the_desk(caller: Caller, pattern: str, place: Place, method: str, thing: Thing) -> set[Any]:
    is_known = caller.is_let_in and caller.by == "session"
    if method == "HEAD" and "GET" in place.methods:
        return {405} | _at_the_desk(caller, pattern, place, "GET", thing)
    if method not in place.methods:
        return {405}
    if place.for_whom == "everybody":
        return {200, 302, "door", 400, 403, 404}
    if not is_known:
        return {"door"}
    if place.names:
        return _of_row(caller, place, method, thing, {200, 302, 422})
    if place.for_whom == "loads files":
        return {200, 302} if caller.who in LOADS_FILES else {404}
    return {200, 302, 400, 403, 404, 422} if pattern.startswith("account/") else {200}


def _of_program(caller: Caller, place: Place, method: str, thing: Thing) -> set[Any]:
    if not caller.is_let_in:
        return {401}
    is_look = method in {"GET", "HEAD", "OPTIONS"}
    if ("read" if is_look else "act") not in caller.scopes:
        return {403}
    if method == "OPTIONS":
        return {204}
    if method not in place.methods and not (method == "HEAD" and place.sees):
        return {405}
    return _of_row(caller, place, "GET" if method == "HEAD" else method, thing, {200}) if place.names else {200}


def _of_row(caller: Caller, place: Place, method: str, thing: Thing, done: set[Any]) -> set[Any]:
    if place.names == "passkey":
        # The password is asked for first, whatever the number.
        return {404, 302}
    if thing is NOBODY or thing.kind != place.names:
        return {404}
    right = may(caller.who, thing)
    if method in place.sees.split():
        return {404} if right == "-" else {200}
    return done if right == "change" else {404}


def whole_walk(world: World) -> Walk:
    walk = Walk.through(world)
    for caller in SESSIONS:
        walk.desk(caller)
    for caller in [*PROGRAMS, *(one for one in SESSIONS if one.who in WITH_A_SESSION)]:
        walk.programs(caller)
    return walk
