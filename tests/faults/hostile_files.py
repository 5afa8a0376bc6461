"""Files that were made to do harm, or that are something else than their name says, each from a good workbook."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable, Iterator
from random import Random

from tests.faults.archive_mutations import Members, members_of, overlap, packed
from tests.faults.markup_mutations import DOCTYPES, SHEET
from tests.faults.seeds import seeds

GOOD = next(seed.content for seed in seeds() if (seed.kind, seed.style) == ("logs", "typed cells"))
HEADER = b"client,performed_on,exercise,set,reps\n"
OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
SHEET_START = b'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>'
SHEET_END = b"</sheetData></worksheet>"
BOMB_ROW = b"<row><c><v>1111111111111111111111111111111111</v></c></row>"
BOMB_UNPACKED_BYTES = 204_000_000


def with_sheet(*parts: bytes) -> bytes:
    """The good workbook with another sheet, which may be large: it is packed as it comes."""
    return _with_member(SHEET, iter([SHEET_START, *parts, SHEET_END]))


def with_member(name: str, content: bytes) -> bytes:
    return _with_member(name, iter([content]))


def _with_member(name: str, parts: Iterator[bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for other, content in members_of(GOOD):
            if other != name:
                archive.writestr(other, content)
        with archive.open(name, "w") as member:
            for part in parts:
                member.write(part)
    return out.getvalue()


def edited(old: bytes, new: bytes, name: str = SHEET) -> bytes:
    changed = [(other, re.sub(old, new, content) if other == name else content) for other, content in members_of(GOOD)]
    return packed(changed)


def bomb() -> bytes:
    """Some hundred kilobytes that unpack to 204 MB of rows."""
    piece = BOMB_ROW * 10_000
    pieces = BOMB_UNPACKED_BYTES // len(piece)
    return _with_member(SHEET, iter([SHEET_START, *([piece] * pieces), SHEET_END]))


def quoted_overlap() -> bytes:
    """All members of the directory are one and the same large member."""
    large = packed([*members_of(GOOD), *((f"xl/media/{n}", bytes(3_000_000)) for n in range(20))])
    return overlap(large, Random(1))


def nested() -> bytes:
    inner = GOOD
    for _ in range(5):
        inner = packed([("workbook.xlsx", inner)])
    return inner


def many_members() -> bytes:
    return packed([*members_of(GOOD), *((f"xl/media/{n}.png", b"") for n in range(201))])


def long_directory() -> bytes:
    return packed([*members_of(GOOD), *((f"{n}", b"") for n in range(40_000))])


def of_method(method: int) -> bytes:
    """What says that its members are packed in another way."""
    changed = bytearray(GOOD)
    for signature, offset in ((b"PK\x03\x04", 8), (b"PK\x01\x02", 10)):
        for match in re.finditer(re.escape(signature), GOOD):
            changed[match.start() + offset] = method
    return bytes(changed)


def with_password() -> bytes:
    changed = bytearray(GOOD)
    for match in re.finditer(re.escape(b"PK\x01\x02"), GOOD):
        changed[match.start() + 8] |= 1
    return bytes(changed)


def lying_sizes() -> bytes:
    """A directory by which each member is a few bytes long."""
    changed = bytearray(GOOD)
    for match in re.finditer(re.escape(b"PK\x01\x02"), GOOD):
        changed[match.start() + 24 : match.start() + 28] = (9).to_bytes(4, "little")
    return bytes(changed)


def with_document_type(number: int, listener: str) -> bytes:
    doctype = DOCTYPES[number].replace("{listener}", listener).encode()
    entity = rb"&l9;" if number == 0 else rb"&e;"
    changed: Members = []
    for name, content in members_of(GOOD):
        if name in ("xl/sharedStrings.xml", "xl/workbook.xml", SHEET):
            content = re.sub(rb"\?>", rb"?>" + doctype.replace(b"\\", rb"\\"), content, count=1)
            content = re.sub(rb"<(v|t)>[^<]*", rb"<\1>" + entity, content)
        changed.append((name, content))
    return packed(changed)


def open_document() -> bytes:
    return packed([("mimetype", b"application/vnd.oasis.opendocument.spreadsheet"), ("content.xml", b"<x/>")])


def binary_workbook() -> bytes:
    return packed([("[Content_Types].xml", b"<Types/>"), ("xl/workbook.bin", b"\x83\x01")])


def text_document() -> bytes:
    types = b'<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>'
    return packed([("[Content_Types].xml", types), ("word/document.xml", b"<x/>")])


def many_sheets() -> bytes:
    sheet = rb'<sheet name="Rows" sheetId="1" r:id="rId1"/>'
    return edited(rb"<sheet [^>]*/>", sheet * 5_000, "xl/workbook.xml")


def all_formulas() -> bytes:
    return edited(rb'<c r="([A-Z]+(?:[2-9]|1[0-9]))"[^>]*><v>[^<]*</v></c>', rb'<c r="\1"><f>NOW()</f></c>')


# What each is, the file, and the line that it is refused with.
Case = tuple[str, Callable[[], bytes], str]
HOSTILE: list[Case] = [
    ("zip bomb of a sheet", bomb, r"unpacks into more than 50 MB"),
    ("zip bomb of a picture", lambda: with_member("xl/media/i.png", bytes(60_000_000)), r"unpacks into more than 50"),
    ("overlapping members", quoted_overlap, r"damaged|unpacks into more"),
    ("archive in an archive", nested, r"is an archive and no workbook"),
    ("many members", many_members, r"has 2\d\d members in its archive; at most 200 are read"),
    ("a directory of 40,000 members", long_directory, r"more members in its archive than the 200 that are read"),
    ("deflate64", lambda: of_method(9), r"packed in a way that no workbook is \(method 9\)"),
    ("lzma", lambda: of_method(14), r"packed in a way that no workbook is \(method 14\)"),
    ("a password within the archive", with_password, r"has a password"),
    ("lying sizes", lying_sizes, r"damaged or half-written"),
    ("old workbook or one with a password", lambda: OLE + bytes(2_000), r"is an old \.xls workbook, or one with"),
    ("OpenDocument", open_document, r"is an OpenDocument file: save it as \.xlsx or \.csv"),
    ("binary workbook", binary_workbook, r"is a binary workbook \(\.xlsb\)"),
    ("text document", text_document, r"is no workbook that can be read"),
    ("one cell in the last corner", lambda: with_sheet(b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>'),
     r"row 1048576, column XFD: has more than 200 columns"),
    ("a row of a million cells", lambda: with_sheet(b"<row>", b"<c><v>1</v></c>" * 1_000_000, b"</row>"),
     r"row 1 of its sheet holds more than a row can"),
    ("a million rows", lambda: with_sheet(b"<row><c><v>1</v></c></row>" * 1_000_000), r"the header lacks the columns"),
    ("a header of a million columns", lambda: b"a," * 1_000_000 + b"\n", r"row 1, column GS: has more than 200"),
    ("ten million empty cells", lambda: HEADER + b",,,,\n" * 1_900_000, r"has more than 20,000 rows"),
    ("one line of ten megabytes", lambda: HEADER + b"a" * 9_900_000, r"row 2: a cell is longer than 131,072"),
    ("an unclosed quote", lambda: HEADER + b'ana,"2026-03-02\n' * 40_000, r"row 2|row 3"),
    ("NUL bytes", lambda: HEADER + b"ana,2026-03-02,Row,1,\0\n", r"row 2: is no table: it holds NUL bytes"),
    ("UTF-16 without a mark", lambda: HEADER.decode().encode("utf-16-le"), r"row 1: is no table: it holds NUL bytes"),
    ("UTF-32", lambda: HEADER.decode().encode("utf-32"), r"row 1: is no table: it holds NUL bytes"),
    ("two encodings", lambda: HEADER + "zoë,x,x,1,1\n".encode() + "zoë,x,x,1,1\n".encode("latin-1"),
     r"row 3: the byte 0xEB"),
    ("markup in other hands", lambda: edited(rb"spreadsheetml/2006/main", rb"other"), r"is empty|no workbook"),
    ("five thousand sheets", many_sheets, r"has 5,000 sheets; at most 200 are read"),
    ("deep nesting", lambda: with_sheet(b"<a>" * 500_000, b"</a>" * 500_000), r"holds more than a row can"),
    ("a row of twenty thousand cells", lambda: with_sheet(b"<row>", b"<c><v>1</v></c>" * 20_000, b"</row>"),
     r"row 1, column XFE: stands in the wrong place"),
]  # fmt: skip
