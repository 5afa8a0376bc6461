"""Papers and workbooks, read back by programs that share nothing with what wrote them."""

from __future__ import annotations

import subprocess
from io import BytesIO
from pathlib import Path
from typing import Any

from openpyxl import load_workbook
from pypdf import PdfReader
from pypdf.generic import DictionaryObject

Cells = dict[str, list[tuple[Any, ...]]]


def pdf(content: bytes) -> PdfReader:
    return PdfReader(BytesIO(content), strict=True)


def words_of(content: bytes) -> str:
    """All pages, with every run of blanks as one; breaks that show nothing are left out."""
    text = " ".join(page.extract_text() for page in pdf(content).pages)
    return " ".join(text.replace("\u200b", "").split())


def fonts_of(content: bytes) -> dict[str, DictionaryObject]:
    """By name: the descriptor of every face in use, those inside of drawings too."""
    found: dict[str, DictionaryObject] = {}
    for page in pdf(content).pages:
        _collect(page["/Resources"].get_object(), found)
    return found


def _collect(resources: Any, found: dict[str, DictionaryObject]) -> None:
    for font in resources.get("/Font", {}).values():
        inner = font.get_object().get("/DescendantFonts", [font])[0].get_object()
        found[inner["/BaseFont"]] = inner["/FontDescriptor"].get_object()
    for drawing in resources.get("/XObject", {}).values():
        _collect(drawing.get_object().get("/Resources", {}), found)


def structure_of(content: bytes) -> list[tuple[str, str]]:
    """The tags of a paper in their order, each with the words that stand for it, if any."""
    return list(_tags(pdf(content).trailer["/Root"]["/StructTreeRoot"]))


def _tags(element: Any) -> Any:
    element = element.get_object()
    if isinstance(element, list):
        for one in element:
            yield from _tags(one)
    elif isinstance(element, dict):
        if "/S" in element:
            yield element["/S"].removeprefix("/"), str(element.get("/Alt", ""))
        if "/K" in element:
            yield from _tags(element["/K"])


def cells_of(content: bytes) -> Cells:
    workbook = load_workbook(BytesIO(content))
    return {sheet.title: [tuple(row) for row in sheet.iter_rows(values_only=True)] for sheet in workbook.worksheets}


def resaved(content: bytes, folder: Path) -> bytes:
    """Opened by LibreOffice, and saved again."""
    (folder / "asked").mkdir()
    given = folder / "asked" / "pack.xlsx"
    given.write_bytes(content)
    home = f"-env:UserInstallation={(folder / 'office').as_uri()}"
    command = ["soffice", home, "--headless", "--convert-to", "xlsx", "--outdir", str(folder), str(given)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    return (folder / "pack.xlsx").read_bytes()
