"""How far a command has come, on one line of a terminal; nothing where no terminal is."""

from __future__ import annotations

import time
from collections.abc import Callable
from functools import partial
from typing import Protocol, Self

SECONDS_BETWEEN = 0.2
CLEAR_LINE = "\r\x1b[K"


class Stream(Protocol):
    """Where a command writes its messages."""

    def isatty(self) -> bool: ...
    def flush(self) -> None: ...
    def write(self, msg: str, style_func: None = None, ending: str | None = None) -> None: ...


class TerminalProgress:
    def __init__(self, stream: Stream) -> None:
        self.stream = stream
        self.is_terminal = stream.isatty()
        self.shown_at: float | None = None
        self.shown_what = ""

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.clear()

    def __call__(self, what: str, count: int) -> None:
        if self.is_terminal and self._is_due(what):
            self.shown_at, self.shown_what = time.monotonic(), what
            self._write(f"{CLEAR_LINE}{count:,} {what}")

    def clear(self) -> None:
        """Makes room for a line that stays."""
        if self.shown_at is not None:
            self._write(CLEAR_LINE)
            self.shown_at = None

    def counting(self, what: str) -> Callable[[int], None]:
        """Tells how many of one thing are done, from none on: the first of them may take its time."""
        self(what, 0)
        return partial(self, what)

    def _is_due(self, what: str) -> bool:
        """Something else at once, the same thing not more often than it can be read."""
        if self.shown_at is None or what != self.shown_what:
            return True
        return time.monotonic() - self.shown_at >= SECONDS_BETWEEN

    def _write(self, text: str) -> None:
        self.stream.write(text, ending="")
        self.stream.flush()
