"""A program as the interface meets it: a token, addresses, answers."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.http import HttpResponse
from django.test import Client as Browser

from coaching.api.models import Scope
from coaching.api.tokens import make_token
from roster.people.models import Coach

V1 = "/api/v1/"
PROBLEM = "application/problem+json"


class Program:
    def __init__(self, coach: Coach, scopes: Iterable[str] = Scope.values) -> None:
        self.row, self.token = make_token(coach=coach, name="a program", scopes=scopes, days=30)
        self.browser = Browser(headers={"authorization": f"Bearer {self.token}"})

    def get(self, address: str, **headers: str) -> HttpResponse:
        return self.browser.get(address if address.startswith(("/", "http")) else V1 + address, headers=headers)

    def post(self, address: str, body: Any = None, **headers: str) -> HttpResponse:
        return self.browser.post(V1 + address, body or {}, content_type="application/json", headers=headers)

    def all_rows(self, address: str) -> list[dict[str, Any]]:
        """The rows of all pages."""
        rows: list[dict[str, Any]] = []
        following: str | None = address
        while following:
            answer = self.get(following)
            assert answer.status_code == 200, answer.content
            rows += answer.json()["results"]
            following = answer.json()["next"]
        return rows


def problem(answer: HttpResponse) -> dict[str, Any]:
    """What a fault says; it is told as one."""
    assert answer.headers["Content-Type"] == PROBLEM
    told: dict[str, Any] = answer.json()
    assert told["status"] == answer.status_code
    return told
