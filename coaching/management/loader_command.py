"""What the three commands that load a file have in common."""

from __future__ import annotations

from pathlib import Path
from typing import Any, ClassVar

from django.core.management.base import CommandParser

from coaching.loads.loading import load_file
from coaching.management.help_text import CommandWithExamples
from coaching.management.progress import TerminalProgress
from coaching.management.studios import Refused, add_studio_argument, chosen_studio, owner_of
from roster.tables.faults import on_one_line
from roster.tables.report import LoadReport

MOST_LINES = 200


class LoaderCommand(CommandWithExamples):
    kind: ClassVar[str]

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", metavar="FILE", type=Path, help="CSV or XLSX")
        parser.add_argument("--check", action="store_true", help="report what loading would do, and save nothing")
        add_studio_argument(parser)

    def handle(self, *args: Any, **options: Any) -> None:
        path, is_check = options["file"], options["check"]
        studio = chosen_studio(options["studio"])
        with TerminalProgress(self.stderr) as progress:
            report = load_file(self.kind, path, studio, by=owner_of(studio), check_only=is_check, progress=progress)
        self._tell(path, report)
        if report.faults:
            raise Refused(f"{path.name}: {report.faults.counted}; nothing was saved.")
        self._say(f"{path.name}: {report.counts}{'; checked only, nothing was saved' if is_check else ''}.")

    def _tell(self, path: Path, report: LoadReport) -> None:
        self._list([f"{path.name}: {fault}" for fault in report.faults], report.faults.total)
        if not report.faults:
            self._list([f"changed: {change}" for change in report.changes])
            self._list([f"note: {message}" for message in report.messages])
            self._list([f"warning: {warning}" for warning in report.warnings])

    def _list(self, lines: list[str], total: int = 0) -> None:
        for line in lines[:MOST_LINES]:
            self._say(line)
        more = max(total, len(lines)) - MOST_LINES
        if more > 0:
            self._say(f"and {more:,} more")

    def _say(self, line: str) -> None:
        """Plainly, without the colour of errors: most of it is none."""
        self.stderr.write(on_one_line(line), str)
