from __future__ import annotations

from dataclasses import dataclass

from django.utils.safestring import SafeString

from coaching.desk.kept import KeptByFacts


@dataclass(frozen=True, slots=True)
class Cells:
    """The weeks of one client on the board."""

    html: SafeString
    # A session of the board's last week is missed or overdue.
    is_behind: bool


class KeptCells(KeptByFacts[Cells]):
    # Some ten megabytes.
    most_kept = 2_000
