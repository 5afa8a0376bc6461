"""Days as arguments of commands."""

from __future__ import annotations

from argparse import ArgumentTypeError
from datetime import date

from django.core.management.base import CommandParser


def parse_day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise ArgumentTypeError(f"“{text}” is no day such as 2026-04-15") from None


def add_as_of_argument(parser: CommandParser) -> None:
    parser.add_argument(
        "--as-of", metavar="DAY", type=parse_day, help="the day to stand at, such as 2026-04-15; else today"
    )
