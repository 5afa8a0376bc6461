"""Numbers as people write them."""

from __future__ import annotations

from django import template

from coaching.loads import naming

register = template.Library()


@register.filter
def thousands(number: int) -> str:
    return f"{number:,}"


@register.filter
def counted(number: int, noun: str) -> str:
    """Such as "1 row" or "1,200 rows"."""
    return naming.counted(number, noun)
