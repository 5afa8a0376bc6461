"""Figures and days as the pages write them; unknown is a dash, never a zero."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from django import template

from coaching.desk import days
from coaching.desk.addresses import story_address
from coaching.desk.evidence import UNKNOWN

register = template.Library()
register.filter(story_address)


@register.filter
def kilograms(grams: int | None) -> str:
    """Grams as kilograms, with decimals only where there are any."""
    if grams is None:
        return UNKNOWN
    return f"{Decimal(grams) / 1000:,f}".rstrip("0").rstrip(".") if grams % 1000 else f"{grams // 1000:,}"


@register.filter
def percent(share: float | None) -> str:
    return UNKNOWN if share is None else f"{100 * share:.0f} %"


@register.filter
def ago(day: date | None, today: date) -> str:
    return UNKNOWN if day is None else days.ago(day, today)


@register.filter
def counted(count: int, words: str) -> str:
    """{{ 3|counted:"client,clients" }} is "3 clients"."""
    one, _, many = words.partition(",")
    return days.counted(count, one, many)
