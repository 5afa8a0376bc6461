"""The help of a command as it is written, so that examples stay on lines of their own."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandParser, DjangoHelpFormatter


class AsWritten(DjangoHelpFormatter):
    def _fill_text(self, text: str, width: int, indent: str) -> str:
        return "".join(indent + line for line in text.splitlines(keepends=True))


class CommandWithExamples(BaseCommand):
    def create_parser(self, prog_name: str, subcommand: str, **kwargs: Any) -> CommandParser:
        return super().create_parser(prog_name, subcommand, formatter_class=AsWritten, **kwargs)
