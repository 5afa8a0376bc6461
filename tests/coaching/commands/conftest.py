from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import dataclass

import pytest
from django.core.management import call_command

from coaching.management.studios import Refused


@dataclass
class Outcome:
    """What a command left behind: its exit status, and the lines of its two streams."""

    status: int
    data: list[str]
    said: list[str]


@pytest.fixture
def run(db: None) -> Callable[..., Outcome]:
    """Run a command as the terminal would, with the status it would exit with."""

    def run_command(*arguments: object) -> Outcome:
        data, said = io.StringIO(), io.StringIO()
        status = 0
        try:
            call_command(*map(str, arguments), stdout=data, stderr=said)
        except Refused as refused:
            status = refused.returncode
            said.write(str(refused) + "\n")
        return Outcome(status, data.getvalue().splitlines(), said.getvalue().splitlines())

    return run_command
