"""What is counted, and what is taken once, holds over processes that share nothing but their store."""

from __future__ import annotations

import random
import re
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from uuid import uuid4

import pytest

from tests.coaching.accounts.door import STEP_SECONDS, code_of
from tests.coaching.accounts.served import Visitor, manage, served

PASSWORD = "a kettle of tea"
TOO_MANY = "Too many tries."
AT_ONCE = 20


@dataclass(frozen=True)
class Desk:
    addresses: list[str]
    email: str

    def visitor(self) -> Visitor:
        return Visitor(f"10.{random.randrange(256)}.{random.randrange(256)}.{random.randrange(256)}")

    def sign_in(self, visitor: Visitor, address: str, password: str = PASSWORD) -> tuple[str, str]:
        return visitor.post(f"{address}/sign-in/", {"login": self.email, "password": password})


@pytest.fixture(scope="module")
def addresses(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Path, list[str]]]:
    home = tmp_path_factory.mktemp("home")
    manage(home, "migrate")
    with served(home, processes=2) as addresses:
        yield home, addresses


@pytest.fixture
def desk(addresses: tuple[Path, list[str]]) -> Desk:
    """With an owner of its own, as tries are counted for an address."""
    home, served_at = addresses
    email = f"{uuid4().hex}@example.org"
    manage(home, "open_studio", f"Studio of {email}", "--owner", email, OWNER_PASSWORD=PASSWORD)
    return Desk(served_at, email)


def test_tries_at_two_processes_are_counted_together(desk: Desk) -> None:
    """ASVS 5.0 6.3.1"""
    visitors = [(desk.visitor(), desk.addresses[number % 2]) for number in range(11)]

    told = [TOO_MANY in desk.sign_in(visitor, address, "guess")[1] for visitor, address in visitors]

    assert told == [False] * 10 + [True]
    assert all(TOO_MANY in desk.sign_in(desk.visitor(), address)[1] for address in desk.addresses)


def test_tries_from_one_place_at_two_processes_are_counted_together(desk: Desk) -> None:
    visitor = desk.visitor()
    form = [{"login": f"{uuid4().hex}@example.org", "password": "guess"} for _ in range(52)]

    told = [TOO_MANY in visitor.post(f"{desk.addresses[n % 2]}/sign-in/", form[n])[1] for n in range(52)]

    assert told == [False] * 50 + [True] * 2


@pytest.mark.parametrize("kind", ["of the app", "of recovery"])
def test_one_code_sent_twenty_times_at_once_opens_once(desk: Desk, kind: str) -> None:
    """ASVS 5.0 6.5.1, 15.4.2"""
    secret, recovery_codes = add_app(desk)
    pairs = at_the_second_door(desk)
    wait_for_the_next_code()

    assert opened(pairs, code_of(secret) if kind == "of the app" else recovery_codes[0]) == 1


def wait_for_the_next_code() -> None:
    """The present one was used up when the app was added."""
    time.sleep(STEP_SECONDS - time.time() % STEP_SECONDS + 0.1)


def add_app(desk: Desk) -> tuple[str, list[str]]:
    owner, address = desk.visitor(), desk.addresses[0]
    desk.sign_in(owner, address)
    owner.post(f"{address}/account/confirm/", {"password": PASSWORD, "next": "/account/"})
    secret = re.search(r'class="secret">(\w+)<', owner.get(f"{address}/account/app/add/")[1])
    assert secret
    where, page = owner.send(f"{address}/account/app/add/", {"code": code_of(secret[1])})
    assert where.endswith("/account/recovery-codes/")
    return secret[1], re.findall(r"<code>(\d{8})</code>", page)


def at_the_second_door(desk: Desk) -> list[tuple[Visitor, str]]:
    """Visitors who have given the password, each with the process that they talk to."""
    pairs = [(desk.visitor(), desk.addresses[number % 2]) for number in range(AT_ONCE)]
    for visitor, address in pairs:
        desk.sign_in(visitor, address)
    return pairs


def opened(pairs: list[tuple[Visitor, str]], code: str) -> int:
    """How many come in with one code, all at the same time."""

    def knock(number: int) -> bool:
        visitor, address = pairs[number]
        where, _ = visitor.send(f"{address}/sign-in/second-factor/", {"code": code})
        return where == f"{address}/"

    with ThreadPoolExecutor(AT_ONCE) as threads:
        return sum(threads.map(knock, range(AT_ONCE)))
