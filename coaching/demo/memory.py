"""What the demo remembers between two runs, in a file beside its roster."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, replace
from datetime import date
from pathlib import Path

FILE_NAME = "demo.json"


@dataclass(frozen=True)
class DemoMemory:
    """How the roster was drawn, for which day it was staged, and up to which day it is loaded."""

    seed: int
    clients: int
    weeks: int
    staged_for: date
    loaded_until: date | None = None

    def is_drawn_like(self, other: DemoMemory) -> bool:
        return (self.seed, self.clients, self.weeks) == (other.seed, other.clients, other.weeks)

    def loaded(self, day: date) -> DemoMemory:
        return replace(self, loaded_until=day)

    def keep(self, directory: Path) -> None:
        """Whole or not at all, whatever happens while it is written."""
        directory.mkdir(parents=True, exist_ok=True)
        new = directory / f"{FILE_NAME}.new"
        new.write_text(json.dumps(asdict(self), default=str, indent=1), encoding="utf-8")
        new.replace(directory / FILE_NAME)


def recall(directory: Path) -> DemoMemory | None:
    """None if there is nothing to recall, or nothing that can be read."""
    try:
        kept = json.loads((directory / FILE_NAME).read_text(encoding="utf-8"))
        days = {name: date.fromisoformat(kept[name]) for name in ("staged_for", "loaded_until") if kept[name]}
        return DemoMemory(kept["seed"], kept["clients"], kept["weeks"], **days)
    except (OSError, ValueError, KeyError, TypeError):
        return None
