"""Figures and days as the pages write them; unknown is a dash, never a zero."""

from __future__ import annotations

from datetime import date

from django import template

from coaching.desk import days
from coaching.desk.addresses import story_address
from coaching.desk.evidence import UNKNOWN
from coaching.monitoring import plain_words

register = template.Library()
register.filter(story_address)


@register.filter
def thousands(number: int) -> str:
    return f"{number:,}"


@register.filter
def ago(day: date | None, today: date) -> str:
    return UNKNOWN if day is None else days.ago(day, today)


@register.filter
def counted(count: int, words: str) -> str:
    """{{ 3|counted:"client,clients" }} is "3 clients"."""
    one, _, many = words.partition(",")
    return plain_words.counted(count, one, many)
