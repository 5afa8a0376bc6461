"""How packs write numbers, days and loads."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from analytics.frame_schema import Measure
from coaching.check_ins.spans import BestSet
from coaching.monitoring.load_words import in_unit
from coaching.monitoring.plain_words import day_text, mass_text

_MEASURES = {Measure.REPS: "", Measure.SECONDS: " s", Measure.METRES: " m"}


def best_set_text(best: BestSet, unit: str) -> str:
    """Such as "9 × 18 kg", "8 each side × 12 kg", "14 reps", "45 s"."""
    each = " each side" if best.is_each_side else ""
    counted = f"{best.reps}{_MEASURES[Measure(best.measure)]}{each}"
    if best.load_g is not None:
        return f"{counted} × {mass_text(best.load_g, unit)}"
    return counted if best.measure != Measure.REPS else f"{best.reps} {'rep' if best.reps == 1 else 'reps'}{each}"


def e1rm_in_unit(best: BestSet | None, unit: str) -> float | None:
    if best is None or best.e1rm_kg is None:
        return None
    return round(in_unit(round(1000 * best.e1rm_kg), unit), 1)


def days_text(first: date, last: date) -> str:
    """Such as "Mon 9 to Sun 15 Mar"; both months where they differ."""
    if first == last:
        return day_text(first)
    if (first.year, first.month) == (last.year, last.month):
        return f"{first:%a} {first.day} to {day_text(last)}"
    return f"{day_text(first)} to {day_text(last)}"


def in_a_row(texts: Sequence[str]) -> str:
    """Such as "goblet squat", "goblet squat and row", "goblet squat, row and swing"."""
    return texts[0] if len(texts) == 1 else f"{', '.join(texts[:-1])} and {texts[-1]}"
