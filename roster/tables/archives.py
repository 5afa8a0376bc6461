"""The archive that a workbook is, looked through before anything in it is believed.

What comes out of each member is counted as it comes out: a few hundred kilobytes can unpack to gigabytes, and what an
archive says of its own sizes is part of what may be false.
"""

from __future__ import annotations

import zipfile
from collections import Counter
from collections.abc import Iterator
from typing import BinaryIO

from roster.tables.faults import FileRefused
from roster.tables.limits import MEGABYTE, Limits

CHUNK_BYTES = 1 << 20
END_OF_DIRECTORY = b"PK\x05\x06"
END_AND_COMMENT_BYTES = 22 + 65_535
DIRECTORY_BYTES_A_MEMBER = 1_024
IS_ENCRYPTED = 0x1
PACKED_AS_WORKBOOKS_ARE = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
MANIFEST = "[content_types].xml"


def look_through_archive(file: BinaryIO, limits: Limits) -> None:
    """Refuse an archive that is no workbook, that can be read in two ways, or that unpacks into too much."""
    _refuse_a_long_directory(file, limits)
    with zipfile.ZipFile(file) as archive:
        members = archive.infolist()
        if len(members) > limits.workbook_members:
            raise FileRefused(f"has {len(members)} members in its archive; at most {limits.workbook_members} are read")
        _refuse_other_files({member.filename.casefold() for member in members})
        _refuse_two_of_a_name(members)
        for member in members:
            _refuse_odd_packing(member)
        _refuse_too_much(archive, members, limits)


def _refuse_a_long_directory(file: BinaryIO, limits: Limits) -> None:
    """Before it is read: a directory alone can name a million members."""
    size = file.seek(0, 2)
    file.seek(max(0, size - END_AND_COMMENT_BYTES))
    end = file.read()
    found = end.rfind(END_OF_DIRECTORY)
    directory_bytes = int.from_bytes(end[found + 12 : found + 16], "little") if found >= 0 else 0
    if directory_bytes > limits.workbook_members * DIRECTORY_BYTES_A_MEMBER:
        raise FileRefused(f"has more members in its archive than the {limits.workbook_members} that are read")


def _refuse_other_files(names: set[str]) -> None:
    if "mimetype" in names and MANIFEST not in names:
        raise FileRefused("is an OpenDocument file: save it as .xlsx or .csv")
    if "xl/workbook.bin" in names:
        raise FileRefused("is a binary workbook (.xlsb): save it as .xlsx or .csv")
    if MANIFEST not in names:
        raise FileRefused("is an archive and no workbook: load what is in it file by file")


def _refuse_two_of_a_name(members: list[zipfile.ZipInfo]) -> None:
    """One program would read the first and another the last."""
    names = Counter(member.filename.casefold() for member in members)
    twice = next((name for name, count in names.items() if count > 1), None)
    if twice:
        raise FileRefused("is a damaged workbook: its archive has two members of one name", value=twice)


def _refuse_odd_packing(member: zipfile.ZipInfo) -> None:
    if member.flag_bits & IS_ENCRYPTED:
        raise FileRefused("has a password: save it without one")
    if member.compress_type not in PACKED_AS_WORKBOOKS_ARE:
        raise FileRefused(f"is packed in a way that no workbook is (method {member.compress_type})")


def _refuse_too_much(archive: zipfile.ZipFile, members: list[zipfile.ZipInfo], limits: Limits) -> None:
    unpacked_bytes = 0
    for member in members:
        for chunk in _chunks_of(archive, member):
            unpacked_bytes += len(chunk)
            if unpacked_bytes > limits.unpacked_bytes:
                raise FileRefused(f"unpacks into more than {limits.unpacked_bytes // MEGABYTE} MB")


def _chunks_of(archive: zipfile.ZipFile, member: zipfile.ZipInfo) -> Iterator[bytes]:
    with archive.open(member) as file:
        yield from iter(lambda: file.read(CHUNK_BYTES), b"")
