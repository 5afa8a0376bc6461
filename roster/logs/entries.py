"""A session log as any door hands it in: checked, and not yet in the record."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Any
from uuid import UUID, uuid5

from roster.blocks.cells import Load
from roster.blocks.plan_index import Names
from roster.labels import fold
from roster.people.models import Client

# Of the identifiers that are made for logs which bring none.
SUBMISSIONS = UUID("6f0d7c1a-58c5-4b8e-9d0e-3a52c7e1b946")
BETWEEN_PARTS = "\x1f"


@dataclass(slots=True)
class SetEntry:
    exercise: str
    number: int
    reps: int
    # Empty where the entry does not say.
    measure: str
    load: Load
    rest_s: int | None
    is_warm_up: bool

    def canonical(self) -> list[Any]:
        amount = "" if self.load.amount is None else plain(self.load.amount)
        load = [self.load.kind, amount, self.load.unit, fold(self.load.band)]
        return [fold(self.exercise), self.number, self.reps, self.measure, *load, self.rest_s, self.is_warm_up]


@dataclass(slots=True)
class SessionEntry:
    client: Client
    uuid: UUID
    performed_on: date
    # What the log calls its planned session, if it names one, and which that is.
    names: Names | None
    planned_session_id: int | None
    minutes: Decimal | None = None
    effort: Decimal | None = None
    pain: Decimal | None = None
    pain_region: str = ""
    note: str = ""
    # None: trained, and nothing more was told.
    sets: list[SetEntry] | None = None
    # As it came in.
    payload: dict[str, Any] = field(default_factory=dict)

    @property
    def fingerprint(self) -> str:
        """SHA-256 of what the entry says, however it was written."""
        block, week, session = self.names or ("", None, "")
        content = [
            self.performed_on.isoformat(),
            [fold(block), week, fold(session)],
            [None if number is None else plain(number) for number in (self.minutes, self.effort, self.pain)],
            [fold(self.pain_region), self.note],
            None if self.sets is None else [entry.canonical() for entry in self.sets],
        ]
        text = json.dumps(content, ensure_ascii=False, separators=(",", ":"))
        return hashlib.sha256(text.encode()).hexdigest()


def made_uuid(client_key: str, performed_on: date, names: Names | None) -> UUID:
    """The identifier of a log that brings none: the same for the same client, day and session."""
    block, week, session = names or ("", "", "")
    parts = (fold(client_key), performed_on.isoformat(), fold(block), str(week), fold(session))
    return uuid5(SUBMISSIONS, BETWEEN_PARTS.join(parts))


def plain(number: Decimal) -> str:
    """Without zeros at the end, so that 20 and 20.0 are one number."""
    return f"{number.normalize():f}"
