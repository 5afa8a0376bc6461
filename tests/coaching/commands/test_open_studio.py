"""A studio is opened with one owner, who can sign in."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.contrib.auth import authenticate

from coaching.management.commands import open_studio
from roster.people.models import Coach, Studio
from tests.coaching.commands.conftest import Outcome

Run = Callable[..., Outcome]
PASSWORD = "a long walk to the gym"


@pytest.fixture(autouse=True)
def _password_in_the_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("OWNER_PASSWORD", PASSWORD)


def test_the_owner_signs_in_with_the_password_of_the_environment(run: Run):
    outcome = run("open_studio", "North Street", "--owner", "ana@example.org", "--time-zone", "Europe/Lisbon")

    owner = authenticate(username="ana@example.org", password=PASSWORD)
    assert outcome.status == 0
    assert isinstance(owner, Coach)
    assert (owner.role, owner.studio.name, owner.is_staff) == (Coach.Role.OWNER, "North Street", False)
    assert (owner.time_zone, owner.studio.time_zone) == ("Europe/Lisbon", "Europe/Lisbon")
    assert PASSWORD not in str(outcome)


@pytest.mark.parametrize(
    ("name", "owner", "zone", "said"),
    [
        ("north STREET", "bo@example.org", "UTC", "There is a studio “north STREET” already."),
        ("South Street", "ANA@example.org", "UTC", "Somebody signs in with this address already."),
        ("South Street", "bo", "UTC", "Enter a valid email address."),
        ("South Street", "bo@example.org", "Lisbon", "“Lisbon” is no IANA time zone, such as Europe/Lisbon."),
        (" ", "bo@example.org", "UTC", "This field cannot be blank."),
    ],
)
def test_what_cannot_be_opened_is_refused_and_leaves_nothing(run: Run, name: str, owner: str, zone: str, said: str):
    run("open_studio", "North Street", "--owner", "ana@example.org")

    outcome = run("open_studio", name, "--owner", owner, "--time-zone", zone)

    assert (outcome.status, outcome.said) == (2, [said])
    assert (Studio.objects.count(), Coach.objects.count()) == (1, 1)


@pytest.mark.parametrize("weak", ["short", "password1234", "ana@example.org"])
def test_a_weak_password_is_refused(run: Run, monkeypatch: pytest.MonkeyPatch, weak: str):
    monkeypatch.setenv("OWNER_PASSWORD", weak)

    outcome = run("open_studio", "North Street", "--owner", "ana@example.org")

    assert outcome.status == 2
    assert not Studio.objects.exists()


class Terminal:
    """A terminal whose owner types these passwords."""

    def __init__(self, *typed: str) -> None:
        self.typed = list(typed)

    def isatty(self) -> bool:
        return True

    def getpass(self, prompt: str) -> str:
        return self.typed.pop(0)


@pytest.mark.parametrize(("again", "status"), [(PASSWORD, 0), ("a long talk at the gym", 2)])
def test_without_the_variable_the_password_is_asked_for_twice(
    run: Run, monkeypatch: pytest.MonkeyPatch, again: str, status: int
):
    terminal = Terminal(PASSWORD, again)
    monkeypatch.delenv("OWNER_PASSWORD")
    monkeypatch.setattr(open_studio.sys, "stdin", terminal)
    monkeypatch.setattr(open_studio, "getpass", terminal.getpass)

    assert run("open_studio", "North Street", "--owner", "ana@example.org").status == status
    assert terminal.typed == []


def test_without_a_terminal_and_the_variable_it_says_what_to_do(run: Run, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.delenv("OWNER_PASSWORD")

    outcome = run("open_studio", "North Street", "--owner", "ana@example.org")

    assert (outcome.status, outcome.said) == (
        2,
        ["no password: set OWNER_PASSWORD, or run this in a terminal to be asked for it"],
    )
