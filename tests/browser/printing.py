"""A page on paper, read back: which words stand where, and on which sheet each row begins and ends."""

from __future__ import annotations

import re
import subprocess
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from xml.etree import ElementTree

from playwright.sync_api import Page

# What a reader takes as one thing. Of rows inside rows, the inner ones: an outer one may be longer than a sheet.
MARK_ROWS = """
() => {
  const isShown = (row) => row.getClientRects().length > 0 && row.checkVisibility();
  const all = [...document.querySelectorAll("main tbody tr, main li, main figure, main [data-row]")].filter(isShown);
  const rows = all.filter((row) => !all.some((other) => other !== row && row.contains(other)));
  rows.forEach((row, number) => {
    const holder = row.cells ? row.cells[0] : row;
    holder.style.position = "relative";
    for (const [name, edge] of [["begins", "top"], ["ends", "bottom"]]) {
      const mark = document.createElement("span");
      mark.className = "edge-of-row";
      mark.textContent = `${name}${number}x`;
      // One small word, whatever the row does with its own.
      const onPaper = { font: "2px/1 sans-serif", color: "#fff", whiteSpace: "nowrap", textIndent: 0 };
      Object.assign(mark.style, { position: "absolute", left: "0", [edge]: "0", ...onPaper });
      holder.append(mark);
    }
  });
  return rows.map((row) => row.innerText.trim().slice(0, 60));
}
"""
FORGET_MARKS = "document.querySelectorAll('.edge-of-row').forEach((mark) => mark.remove())"
# Word by word as they are written, whatever the style puts between them; without what only ears are told.
WORDS = """
() => {
  const words = [];
  const walker = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const holder = walker.currentNode.parentElement;
    const isForEars = holder.closest("svg, script, .visually-hidden, [role=status], option, textarea");
    if (!isForEars && holder.getClientRects().length && holder.checkVisibility()) {
      words.push(...walker.currentNode.data.split(/\\s+/).filter(Boolean));
    }
  }
  return words;
}
"""
MARK = re.compile(r"(begins|ends)(\d+)x")
# Points by which a letter's box may stand over the edge of a sheet without anything being cut.
SLACK = 0.5


@dataclass(frozen=True)
class Word:
    text: str
    sheet: int
    is_inside: bool


@dataclass(frozen=True)
class Paper:
    """What came out of the printer; `rows` begin with these words."""

    words: list[Word]
    rows: list[str]

    def torn_rows(self) -> list[str]:
        """Those that begin on one sheet and end on another, or are not there at all."""
        sheets = {match[0]: word.sheet for word in self.words for match in MARK.finditer(word.text)}
        edges = [(sheets.get(f"begins{number}x"), sheets.get(f"ends{number}x")) for number in range(len(self.rows))]
        return [row for row, (begins, ends) in zip(self.rows, edges, strict=True) if begins is None or begins != ends]

    def words_outside(self) -> list[str]:
        return [word.text for word in self.words if not word.is_inside]

    @cached_property
    def _letters(self) -> str:
        return MARK.sub("", "".join(word.text for word in self.words)).casefold()

    def lacks(self, words: list[str]) -> list[str]:
        """Word by word without regard to spaces, which are only gaps on paper."""
        return [word for word in words if word.casefold() not in self._letters]


def printed(page: Page, form: str, directory: Path) -> Paper:
    """The page as it stands, on A4 or Letter; its rows get marks that paper shows to nobody."""
    page.emulate_media(media="print", color_scheme="light")
    rows = page.evaluate(MARK_ROWS)
    path = directory / f"{form}.pdf"
    page.pdf(path=path, format=form)
    page.evaluate(FORGET_MARKS)
    return Paper(_words(path), rows)


def words_to_print(page: Page) -> list[str]:
    page.emulate_media(media="print", color_scheme="light")
    words: list[str] = page.evaluate(WORDS)
    return words


def _words(path: Path) -> list[Word]:
    found = subprocess.run(["pdftotext", "-bbox", str(path), "-"], capture_output=True, text=True, check=True).stdout
    html = ElementTree.fromstring(_without_control_characters(found))
    space = {"x": "http://www.w3.org/1999/xhtml"}
    return [
        Word(word.text or "", number, _is_inside(word, sheet))
        for number, sheet in enumerate(html.iterfind(".//x:page", space))
        for word in sheet.iterfind("x:word", space)
    ]


def _without_control_characters(text: str) -> str:
    return re.sub(r"[\x00-\x08\x0b\x0c\x0e-\x1f]", "", text)


def _is_inside(word: ElementTree.Element, sheet: ElementTree.Element) -> bool:
    left, top, right, bottom = (float(word.get(name, "nan")) for name in ("xMin", "yMin", "xMax", "yMax"))
    width, height = float(sheet.get("width", "nan")), float(sheet.get("height", "nan"))
    return left >= -SLACK and top >= -SLACK and right <= width + SLACK and bottom <= height + SLACK
