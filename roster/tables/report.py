"""What loading a file did, or why it did nothing."""

from __future__ import annotations

from dataclasses import dataclass, field

from roster.tables.faults import Faults


@dataclass
class LoadReport:
    """With any fault nothing was saved."""

    # What is counted, such as "session logs".
    noun: str
    faults: Faults = field(default_factory=Faults)
    warnings: list[str] = field(default_factory=list)
    messages: list[str] = field(default_factory=list)
    created: int = 0
    changed: int = 0
    unchanged: int = 0
    # What the file changed in the record, one line each.
    changes: list[str] = field(default_factory=list)
    # Of those for whom something was created or changed.
    client_ids: set[int] = field(default_factory=set)

    @property
    def counts(self) -> str:
        return f"{self.noun}: {self.created} created, {self.changed} changed, {self.unchanged} unchanged"
