"""Mutations of the markup in a workbook, and of the cells in its sheet."""

from __future__ import annotations

import re
from collections.abc import Callable
from random import Random

from tests.faults.archive_mutations import members_of, packed
from tests.faults.odd_values import ODD_CELL_MARKUP, ODD_TEXTS

SHEET = "xl/worksheets/sheet1.xml"
CELL = re.compile(rb'<c r="([A-Z]+[0-9]+)"[^>]*?(?:/>|>.*?</c>)', re.DOTALL)
ROW = re.compile(rb"<row .*?(?:/>|</row>)", re.DOTALL)
ELEMENT = re.compile(rb"<[A-Za-z][^<>]*>")
ATTRIBUTE = re.compile(rb'([A-Za-z:]+)="([^"]*)"')
Change = Callable[[bytes, Random], bytes]
# Where outgoing connections of a parser that follows references would arrive; set by whoever listens.
LISTENER = "127.0.0.1:9"
LAUGHS = "".join(f'<!ENTITY l{n + 1} "{f"&l{n};" * 10}">' for n in range(9))
DOCTYPES = [
    f'<!DOCTYPE x [<!ENTITY l0 "ha">{LAUGHS}]>',
    '<!DOCTYPE x [<!ENTITY e SYSTEM "file:///etc/passwd">]>',
    '<!DOCTYPE x [<!ENTITY e SYSTEM "http://{listener}/e">]>',
    '<!DOCTYPE x [<!ENTITY % e SYSTEM "http://{listener}/p"> %e;]>',
    '<!DOCTYPE x SYSTEM "http://{listener}/d">',
    '<!DOCTYPE x PUBLIC "-//W3C//DTD XHTML 1.0 Strict//EN" "http://{listener}/q">',
    '<!DOCTYPE x [<!ENTITY e "' + "A" * 50_000 + '">]>',
    "<!DOCTYPE x>",
]


def document_type(content: bytes, random: Random) -> bytes:
    doctype = random.choice(DOCTYPES).replace("{listener}", LISTENER).encode()
    head, mark, rest = content.partition(b"?>")
    changed = head + mark + doctype + rest if mark else doctype + content
    return re.sub(rb"<(v|t)>[^<]*", random.choice([rb"<\1>&e;", rb"<\1>&l9;"]), changed, count=1)


def odd_attribute(content: bytes, random: Random) -> bytes:
    found = list(ATTRIBUTE.finditer(content))
    if not found:
        return content
    match = random.choice(found)
    value = random.choice([*ODD_TEXTS, "-1", "4294967296", "rId999", "#REF!"]).encode("utf-8", "replace")
    value = value.replace(b"&", b"").replace(b"<", b"").replace(b'"', b"")
    return content[: match.start(2)] + value + content[match.end(2) :]


def drop_attribute(content: bytes, random: Random) -> bytes:
    found = list(ATTRIBUTE.finditer(content))
    match = random.choice(found) if found else None
    return content[: match.start()] + content[match.end() :] if match else content


def change_element(content: bytes, random: Random) -> bytes:
    found = list(ELEMENT.finditer(content))
    if not found:
        return content
    match = random.choice(found)
    element = match[0]
    instead = random.choice(
        [b"", element + element, b"<y/>", b"<!-- -->" + element, element + b"<![CDATA[x]]>", element + b"text"]
    )
    return content[: match.start()] + instead + content[match.end() :]


def deep_nesting(content: bytes, random: Random) -> bytes:
    depth = random.choice([200, 20_000])
    return re.sub(
        rb"<(sheetData|si|sheets)\b[^>]*>", lambda m: m[0] + b"<a>" * depth + b"</a>" * depth, content, count=1
    )


def other_characters(content: bytes, random: Random) -> bytes:
    at = random.randrange(len(content) + 1)
    inserted = random.choice([b"\0", b"\x01", b"&#0;", b"&#xD800;", b"\xff", b"&nope;", b"_x0000_", b"\xef\xbf\xbf"])
    return content[:at] + inserted + content[at:]


def other_declaration(content: bytes, random: Random) -> bytes:
    said = random.choice([b"UTF-16", b"windows-1252", b"utf-7", b"nonsense", b"EBCDIC-CP-US"])
    return re.sub(rb'encoding="[^"]*"', b'encoding="' + said + b'"', content, count=1)


def other_namespace(content: bytes, random: Random) -> bytes:
    strict = b"http://purl.oclc.org/ooxml/spreadsheetml/main"
    return content.replace(
        b"http://schemas.openxmlformats.org/spreadsheetml/2006/main", random.choice([strict, b"x", b""])
    )


def cut_markup(content: bytes, random: Random) -> bytes:
    return content[: random.randrange(len(content) + 1)]


def odd_cell(content: bytes, random: Random) -> bytes:
    for _ in range(random.choice([1, 1, 1, 6])):
        found = list(CELL.finditer(content))
        if not found:
            return content
        match = random.choice(found)
        fills = {
            "at": match[1].decode(),
            "digits": "9" * random.choice([20, 400, 5000]),
            "long": "x" * random.choice([300, 40_000]),
        }
        content = (
            content[: match.start()] + random.choice(ODD_CELL_MARKUP).format(**fills).encode() + content[match.end() :]
        )
    return content


def odd_text_in_a_cell(content: bytes, random: Random) -> bytes:
    found = list(CELL.finditer(content))
    if not found:
        return content
    match = random.choice(found)
    text = "".join(letter for letter in random.choice(ODD_TEXTS) if letter.isprintable() and letter not in "<&")
    cell = f'<c r="{match[1].decode()}" t="inlineStr"><is><t>{text}</t></is></c>'
    return content[: match.start()] + cell.encode() + content[match.end() :]


def other_rows(content: bytes, random: Random) -> bytes:
    rows = [match[0] for match in ROW.finditer(content)]
    if len(rows) < 3:
        return content
    change = random.choice(["repeat", "drop", "swap", "far", "many"])
    at = random.randrange(1, len(rows))
    if change == "repeat":
        rows.insert(at, rows[at])
    elif change == "drop":
        del rows[at]
    elif change == "swap":
        rows[at], rows[0] = rows[0], rows[at]
    elif change == "far":
        rows.append(b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>')
    else:
        rows += [b'<row r="%d"/>' % number for number in range(9_000, 9_000 + 30_000)]
    return re.sub(rb"(<sheetData>).*(</sheetData>)", lambda m: m[1] + b"".join(rows) + m[2], content, flags=re.DOTALL)


def many_columns(content: bytes, random: Random) -> bytes:
    cells = b"".join(b"<c><v>1</v></c>" for _ in range(random.choice([150, 250, 17_000])))
    return content.replace(b"</row>", cells + b"</row>", 1)


MARKUP_CHANGES: list[Change] = [
    document_type, document_type, odd_attribute, odd_attribute, drop_attribute, change_element, change_element,
    deep_nesting, other_characters, other_declaration, other_namespace, cut_markup,
]  # fmt: skip
CELL_CHANGES: list[Change] = [
    odd_cell,
    odd_cell,
    odd_cell,
    odd_text_in_a_cell,
    odd_text_in_a_cell,
    other_rows,
    many_columns,
]


def _on_one_member(change: Change, *names: str) -> Change:
    """The workbook with one member's markup changed: one of those named, else any."""

    def mutate(content: bytes, random: Random) -> bytes:
        members = members_of(content)
        fitting = [at for at, (name, _) in enumerate(members) if not names or name in names] or list(
            range(len(members))
        )
        at = random.choice(fitting)
        members[at] = (members[at][0], change(members[at][1], random))
        return packed(members)

    mutate.__name__ = change.__name__
    return mutate


MARKUP_MUTATIONS = [_on_one_member(change) for change in MARKUP_CHANGES]
CELL_MUTATIONS = [_on_one_member(change, SHEET) for change in CELL_CHANGES]
