"""The folder into which packs are written: each document whole or not at all."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from pathlib import Path

from coaching.check_ins.content import Pack, Paper
from coaching.check_ins.documents import Kind
from coaching.check_ins.documents.papers import Size
from coaching.check_ins.making import documents_of
from coaching.management.studios import Refused
from roster.people.models import Client


class PackFolder:
    def __init__(self, path: Path, papers: Sequence[Paper], kinds: Sequence[Kind], size: Size) -> None:
        self.path, self.papers, self.kinds, self.size = path, papers, kinds, size
        self.packs = self.documents = 0
        try:
            path.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise Refused(f"{path} can't be made a folder: {error.strerror}") from None

    def write_all(self, packs: Iterable[tuple[Client, Pack]], progress: Callable[[str, int], None]) -> list[str]:
        """Of whom there is nothing, and why."""
        nothing = []
        # Before the first, whose reading is that of many.
        progress("packs looked at", 0)
        for count, (client, pack) in enumerate(packs, start=1):
            if pack.nothing:
                nothing.append(f"{client.key}: {pack.nothing}")
            else:
                self.write(pack)
            progress("packs looked at", count)
        return nothing

    def write(self, pack: Pack) -> None:
        for name, content in documents_of(pack, self.papers, self.kinds, self.size):
            self._put(name, content)
            self.documents += 1
        self.packs += 1

    def _put(self, name: str, content: bytes) -> None:
        half = self.path / f".{name}.half"
        try:
            half.write_bytes(content)
            half.replace(self.path / name)
        except OSError as error:
            with suppress(OSError):
                half.unlink()
            raise Refused(f"{self.path / name} can't be written: {error.strerror}") from None
