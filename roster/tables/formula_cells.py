"""Text that a spreadsheet would take for a formula, written so that it stays text, and read back as it was.

Whoever opens an exported table in a spreadsheet must not run what a client typed. Such text is led by an apostrophe,
which is how spreadsheets themselves mark a cell as text; text that begins with apostrophes and then looks like a
formula gets one more, so that taking one away gives back exactly what was written.
"""

from __future__ import annotations

import unicodedata

QUOTE = "'"
# The minus of mathematics has no compatible plain form, but is typed for one.
STARTS = frozenset("=+-@\u2212")
BLANK_CATEGORIES = frozenset({"Cc", "Cf", "Zl", "Zp", "Zs"})
BLANKS_LOOKED_AT = 64


def guarded(text: str) -> str:
    """The text as it may stand in a cell."""
    return QUOTE + text if looks_like_a_formula(text.lstrip(QUOTE)) else text


def unguarded(cell: str) -> str:
    """The text that a cell was written for."""
    return cell[1:] if cell[:1] == QUOTE and looks_like_a_formula(cell.lstrip(QUOTE)) else cell


def looks_like_a_formula(text: str) -> bool:
    """Whether it begins with a sign of formulas or its look-alike, be it after blanks, or with a control character."""
    if text == "":
        return False
    if unicodedata.category(text[0]) == "Cc":
        return True
    start = text[:BLANKS_LOOKED_AT]
    first = next((letter for letter in start if unicodedata.category(letter) not in BLANK_CATEGORIES), None)
    # A long lead of blanks is nothing that anybody wants to see bare.
    return len(text) > BLANKS_LOOKED_AT if first is None else unicodedata.normalize("NFKC", first)[0] in STARTS
