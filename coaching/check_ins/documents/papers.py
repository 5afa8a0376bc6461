"""A pack as PDF: tagged, for people who don't see too (PDF/UA-1), with its faces in it, and the same bytes each time.

What stands where is in `paper.typ`; it gets the paper's words as data, so that markup in them stays letters.
"""

from __future__ import annotations

import json
from functools import lru_cache
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, Literal

from coaching.check_ins.content import Pack, Paper
from coaching.check_ins.documents.characters import FACES, FONTS, drawable
from coaching.check_ins.documents.paper_words import words_of

if TYPE_CHECKING:
    import typst

Size = Literal["a4", "letter"]
SIZES = {"a4": "a4", "letter": "us-letter"}
LAYOUT = Path(__file__).parent / "paper.typ"

# A compiler keeps what it set, and sets one paper at a time.
_one_at_a_time = Lock()


def pdf_of(pack: Pack, paper: Paper, size: Size = "a4") -> bytes:
    words = {"size": SIZES[size], "faces": list(FACES), **words_of(pack, paper)}
    given = {"paper": json.dumps(drawable(words), ensure_ascii=False)}
    with _one_at_a_time:
        pdf = _compiler().compile(format="pdf", sys_inputs=given, pdf_standards=["ua-1"])
    assert isinstance(pdf, bytes)
    return pdf


@lru_cache(maxsize=1)
def _compiler() -> typst.Compiler:
    import typst

    fonts = typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(FONTS)])
    return typst.Compiler(str(LAYOUT), root=str(LAYOUT.parent), font_paths=fonts, ignore_system_fonts=True)
