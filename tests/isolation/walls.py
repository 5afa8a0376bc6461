"""Mutants that change nothing anybody could see, and the second wall that stands behind each."""

from __future__ import annotations

WALLS: dict[str, str] = {}
