"""What a load says of the things in the record while it works, for whoever keeps account of it."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum


class Thing(StrEnum):
    """What a load makes or changes as one; whatever belongs to it goes with it."""

    CLIENT = "client"
    EXERCISE = "exercise"
    BLOCK = "block"
    # Told by the id of its submission: each revision has one of its own.
    LOG = "log"


class Watcher:
    """Listens, and does nothing: what a load works with when nobody keeps account."""

    def before_changing(self, thing: Thing, ids: Iterable[int]) -> None:
        """These may be changed, and stand as they were until now."""

    def made(self, thing: Thing, ids: Iterable[int]) -> None:
        """These are new."""

    def changed(self, thing: Thing, ids: Iterable[int]) -> None:
        """These are no longer as they were; of logs, the ids of the new revisions."""

    def said_again(self, thing: Thing, ids: Iterable[int]) -> None:
        """The file says of these what the record says already."""


NOBODY = Watcher()
