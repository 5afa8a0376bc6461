"""Mutations of the archive that a workbook is: its bytes, its members, and what it says of them."""

from __future__ import annotations

import io
import struct
import warnings
import zipfile
from collections.abc import Callable
from random import Random

from tests.faults.text_mutations import change_bytes, cut_off, drop_bytes, insert_bytes

Members = list[tuple[str, bytes]]
BOMB_BYTES = 60_000_000
LOCAL, CENTRAL, END = b"PK\x03\x04", b"PK\x01\x02", b"PK\x05\x06"


def members_of(content: bytes) -> Members:
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return [(member.filename, archive.read(member)) for member in archive.infolist()]


def packed(members: Members, compression: int = zipfile.ZIP_DEFLATED) -> bytes:
    out = io.BytesIO()
    # Of names that stand twice.
    with warnings.catch_warnings(), zipfile.ZipFile(out, "w", compression, compresslevel=1) as archive:
        warnings.simplefilter("ignore")
        for name, content in members:
            archive.writestr(zipfile.ZipInfo(name), content, compress_type=compression)
    return out.getvalue()


def _on_members(change: Callable[[Members, Random], None]) -> Callable[[bytes, Random], bytes]:
    def mutate(content: bytes, random: Random) -> bytes:
        members = members_of(content)
        change(members, random)
        return packed(members)

    mutate.__name__ = change.__name__.lstrip("_")
    return mutate


def _drop_member(members: Members, random: Random) -> None:
    del members[random.randrange(len(members))]


def _repeat_member(members: Members, random: Random) -> None:
    name, content = random.choice(members)
    members.append((random.choice([name, name.upper()]), random.choice([content, b"", b"<x/>"])))


def _rename_member(members: Members, random: Random) -> None:
    at = random.randrange(len(members))
    name = random.choice(
        ["../" + members[at][0], "/etc/passwd", members[at][0].upper(), "", "a" * 5000, "x\\y", "é\u202e"]
    )
    members[at] = (name, members[at][1])


def _swap_members(members: Members, random: Random) -> None:
    one, other = random.sample(range(len(members)), 2)
    members[one], members[other] = (members[one][0], members[other][1]), (members[other][0], members[one][1])


def _nest(members: Members, random: Random) -> None:
    inner = packed(members)
    for _ in range(random.choice([1, 5])):
        inner = packed([("inner.xlsx", inner)])
    members.append((random.choice(["xl/embeddings/inner.zip", "inner.xlsx"]), inner))


def _many_members(members: Members, random: Random) -> None:
    members.extend((f"xl/media/{number}.png", b"") for number in range(random.choice([150, 201, 3000])))


def _bomb(members: Members, random: Random) -> None:
    name = random.choice(["xl/media/image1.png", "xl/worksheets/sheet9.xml", "docProps/thumbnail.jpeg"])
    members.append((name, bytes(random.choice([BOMB_BYTES // 3, BOMB_BYTES]))))


def _macros(members: Members, random: Random) -> None:
    members.append(("xl/vbaProject.bin", random.randbytes(300)))


def _empty_member(members: Members, random: Random) -> None:
    at = random.randrange(len(members))
    members[at] = (members[at][0], random.choice([b"", b"\0", b"<", b"\xff\xfe", b"<x/>"]))


def lie(content: bytes, random: Random) -> bytes:
    """Another figure in the record of a member, or of the archive: sizes, check sums, methods, flags, offsets."""
    signature, fields = random.choice(
        [
            (LOCAL, [(6, "H"), (8, "H"), (14, "I"), (18, "I"), (22, "I"), (26, "H"), (28, "H")]),
            (CENTRAL, [(8, "H"), (10, "H"), (16, "I"), (20, "I"), (24, "I"), (28, "H"), (30, "H"), (42, "I")]),
            (END, [(4, "H"), (8, "H"), (10, "H"), (12, "I"), (16, "I"), (20, "H")]),
        ]
    )
    places = [at for at in range(len(content)) if content.startswith(signature, at)]
    if not places:
        return content
    offset, kind = random.choice(fields)
    changed = bytearray(content)
    value = random.choice([0, 1, 9, 12, 14, 99, 0xFFFF, 0xFFFF_FFFF, random.randrange(1 << 16)]) % (
        1 << (16 if kind == "H" else 32)
    )
    at = random.choice(places) + offset
    if at + struct.calcsize(kind) <= len(changed):
        struct.pack_into("<" + kind, changed, at, value)
    return bytes(changed)


def overlap(content: bytes, random: Random) -> bytes:
    """Every record of the directory points to one member's place."""
    changed = bytearray(content)
    places = [at for at in range(len(content)) if content.startswith(CENTRAL, at)]
    target = random.choice(places) if places else 0
    for at in places:
        changed[at + 42 : at + 46] = content[target + 42 : target + 46]
        changed[at + 16 : at + 28] = content[target + 16 : target + 28]
    return bytes(changed)


def other_packing(content: bytes, random: Random) -> bytes:
    return packed(members_of(content), random.choice([zipfile.ZIP_STORED, zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA]))


def around_it(content: bytes, random: Random) -> bytes:
    junk = random.randbytes(random.choice([1, 4, 500]))
    return random.choice([junk + content, content + junk, content + content])


ARCHIVE_MUTATIONS = [
    change_bytes, insert_bytes, cut_off, drop_bytes, lie, lie, lie, overlap, other_packing, around_it,
    *map(_on_members, [_drop_member, _repeat_member, _rename_member, _swap_members, _nest, _many_members, _bomb]),
    *map(_on_members, [_macros, _empty_member]),
]  # fmt: skip
