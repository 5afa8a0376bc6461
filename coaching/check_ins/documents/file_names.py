"""Names of files that every system takes: lower-case letters of English, digits, hyphens."""

from __future__ import annotations

import re
import unicodedata
from enum import StrEnum

from coaching.check_ins.content import Pack, Paper

LONGEST_NAME = 60
# Of the client's id: two people of one name, or of a name without a letter of ours, stay apart in one folder.
ID_DIGITS = 8


class Kind(StrEnum):
    PDF = "pdf"
    WORKBOOK = "xlsx"
    TABLE = "csv"


def file_name_of(pack: Pack, paper: Paper, kind: Kind | str) -> str:
    """Such as "ilse-brandt-5b8f6a52-2026-03-01-to-2026-03-31-theirs.pdf".

    Workbook and table hold what the coach's paper does, whichever is asked for, and are named for her.
    """
    whose = paper if Kind(kind) is Kind.PDF else Paper.MINE
    name = _plain(pack.client_name)[:LONGEST_NAME].strip("-") or "client"
    days = f"{pack.period.first.isoformat()}-to-{pack.period.last.isoformat()}"
    return f"{name}-{pack.client_id.hex[:ID_DIGITS]}-{days}-{whose.value}.{Kind(kind).value}"


def _plain(name: str) -> str:
    letters = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", letters).strip("-")
