"""Which characters the faces of papers can draw. Whatever they can't stands there as its code, such as "U+1F9FF":
an empty box would tell nobody anything, and a document for people who don't see must not hold one.
"""

from __future__ import annotations

import re
import struct
import unicodedata
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

FONTS = Path(__file__).parent / "fonts"
# In the order in which they are asked.
FACES = {
    "Inter": "Inter-Regular.ttf",
    "Noto Sans Arabic": "NotoSansArabic-Regular.ttf",
    "Noto Sans Hebrew": "NotoSansHebrew-Regular.ttf",
    "Noto Sans Devanagari": "NotoSansDevanagari-Regular.ttf",
    "Noto Sans Thai": "NotoSansThai-Regular.ttf",
    "Noto Sans CJK SC": "NotoSansCJKsc-Common.otf",
    "Noto Emoji": "NotoEmoji-Regular.ttf",
}
# Nothing to see by themselves: joiners, and which of two looks a character takes.
JOINERS = "\u200c\u200d\ufe0e\ufe0f"
PLAIN = re.compile(r"[\x20-\x7e]*")
WINDOWS, BASIC, FULL = 3, 1, 10


def drawable(value: Any) -> Any:
    """The same, with every text in it made of characters that can be drawn."""
    if isinstance(value, str):
        return value if PLAIN.fullmatch(value) else _drawable_text(value)
    if isinstance(value, dict):
        return {key: drawable(one) for key, one in value.items()}
    return [drawable(one) for one in value] if isinstance(value, list) else value


def _drawable_text(text: str) -> str:
    composed = unicodedata.normalize("NFC", " ".join(text.split()))
    return "".join(map(_drawable_cluster, _clusters(composed)))


def _clusters(text: str) -> Iterator[str]:
    """Letters with the marks on them and what is joined to them."""
    cluster = ""
    for letter in text:
        goes_on = letter in JOINERS or unicodedata.category(letter)[0] == "M" or cluster[-1:] == "\u200d"
        if cluster and not goes_on:
            yield cluster
            cluster = ""
        cluster += letter
    if cluster:
        yield cluster


def _drawable_cluster(cluster: str) -> str:
    """As it is where one face has all of it: marks of one face don't sit on letters of another."""
    seen = {letter for letter in cluster if letter not in JOINERS}
    if seen and any(seen <= face for face in known_characters()):
        return cluster
    return "".join(map(_drawable_alone, cluster))


def _drawable_alone(letter: str) -> str:
    is_mark = letter in JOINERS or unicodedata.category(letter)[0] == "M"
    known = not is_mark and any(letter in face for face in known_characters())
    return letter if known else f"U+{ord(letter):04X}"


@lru_cache(maxsize=1)
def known_characters() -> tuple[frozenset[str], ...]:
    """By face, read from the files themselves; what controls and what has no meaning of its own is left out."""
    return tuple(frozenset(filter(_is_to_be_seen, _characters_of(FONTS / name))) for name in FACES.values())


def _is_to_be_seen(letter: str) -> bool:
    return unicodedata.category(letter) not in ("Cc", "Cf", "Co", "Cs", "Cn")


def _characters_of(path: Path) -> Iterator[str]:
    """Of the table that says which character has which glyph (OpenType 1.9, `cmap`), the fullest part."""
    font = path.read_bytes()
    tables, at = struct.unpack_from(">4xH", font)[0], 0
    for number in range(tables):
        tag, _, offset, _ = struct.unpack_from(">4sLLL", font, 12 + 16 * number)
        at = offset if tag == b"cmap" else at
    parts = struct.unpack_from(">2xH", font, at)[0]
    records = [struct.unpack_from(">HHL", font, at + 4 + 8 * number) for number in range(parts)]
    by_kind = {(platform, encoding): at + offset for platform, encoding, offset in records}
    if (WINDOWS, FULL) in by_kind:
        return _by_groups(font, by_kind[WINDOWS, FULL])
    return _by_segments(font, by_kind[WINDOWS, BASIC])


def _by_groups(font: bytes, at: int) -> Iterator[str]:
    """Format 12."""
    for number in range(struct.unpack_from(">12xL", font, at)[0]):
        first, last, _ = struct.unpack_from(">LLL", font, at + 16 + 12 * number)
        yield from map(chr, range(first, last + 1))


def _by_segments(font: bytes, at: int) -> Iterator[str]:
    """Format 4; a character whose glyph is 0 has none."""
    count = struct.unpack_from(">6xH", font, at)[0] // 2
    columns = [at + 14, at + 16 + 2 * count, at + 16 + 4 * count, at + 16 + 6 * count]
    lasts, firsts, deltas, offsets = (struct.unpack_from(f">{count}H", font, column) for column in columns)
    for number, (first, last, delta, offset) in enumerate(zip(firsts, lasts, deltas, offsets, strict=True)):
        for code in range(first, min(last, 0xFFFE) + 1):
            place = columns[3] + 2 * number + offset + 2 * (code - first)
            glyph = struct.unpack_from(">H", font, place)[0] if offset else code + delta
            if glyph & 0xFFFF:
                yield chr(code)
