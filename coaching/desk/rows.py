"""A row of the Morning list: one client, what is up, and what was last heard and said."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from coaching.desk.days import ago, listed
from coaching.desk.findings import Finding
from coaching.desk.last_words import LastWords
from coaching.desk.roster import Person
from coaching.monitoring.models import ClientState, Kind, Urgency
from coaching.monitoring.piles import Pile
from roster.labels import order_of_names
from roster.people.models import Client


@dataclass(frozen=True)
class Row:
    client: Client | Person
    # Worst first.
    findings: list[Finding]
    remarks: list[str]
    # The client's own next day, as a form field wants it.
    tomorrow: str

    @property
    def worst(self) -> Finding:
        return self.findings[0]

    @cached_property
    def is_seen(self) -> bool:
        """The coach has seen all of it; a matter of safety stays in sight none the less."""
        return self.worst.urgency != Urgency.NOW.value and all(finding.seen_on for finding in self.findings)

    @property
    def runs_out(self) -> bool:
        return self.worst.flag.kind == Kind.PLAN_RUNS_OUT.value

    @property
    def only_runs_out(self) -> bool:
        return self.runs_out and len(self.findings) == 1

    @property
    def is_owed_call(self) -> bool:
        return any(finding.is_check_in for finding in self.findings)

    @property
    def pile(self) -> Pile:
        return self.worst.pile

    @property
    def call_number(self) -> str:
        """Digits as a phone dials them; in "+31 (0)20" the bracketed nought is not dialled."""
        return re.sub(r"^(\+\d+)\s*\(0\)|[^\d+]", r"\1", self.client.phone)

    @property
    def order(self) -> tuple[int, int, int, tuple[str, str]]:
        return *self.worst.order, order_of_names(self.client.name)


def build_row(
    client: Client | Person,
    findings: list[Finding],
    *,
    day: date,
    state: ClientState | None,
    words: LastWords,
) -> Row:
    said = (
        findings[0].remark,
        _last_heard(state, day),
        _last_word(client, day, words),
        _promise(client, words),
        _also(findings[1:]),
    )
    remarks = [remark for remark in said if remark]
    remarks[0] = remarks[0][0].upper() + remarks[0][1:]
    return Row(client, findings, remarks, (day + timedelta(days=1)).isoformat())


def _last_heard(state: ClientState | None, day: date) -> str:
    if state is None or state.last_log_on is None:
        return "no log yet"
    return f"last heard {ago(state.last_log_on, day)}"


def _last_word(client: Client | Person, day: date, words: LastWords) -> str:
    if client.pk not in words.contacts:
        return ""
    made_on, is_own = words.contacts[client.pk]
    return f"last word from {'you' if is_own else 'a colleague'} {ago(made_on, day)}"


def _promise(client: Client | Person, words: LastWords) -> str:
    promise = words.promises.get(client.pk)
    return f"promised: “{promise}”" if promise else ""


def _also(folded: Sequence[Finding]) -> str:
    return f"also: {listed([finding.label for finding in folded], at_most=3)}" if folded else ""
