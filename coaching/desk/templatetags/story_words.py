"""Figures of the Client story in words; unknown is a dash, never a zero."""

from __future__ import annotations

import re
from decimal import Decimal

from django import template
from django.utils.safestring import SafeString

from coaching.desk.evidence import UNKNOWN
from coaching.monitoring.plain_words import number_text
from roster.mass import from_grams
from roster.people.models import Client, KitItem

register = template.Library()

NO_LOAD = SafeString('<span title="nothing with a load">–</span>')


@register.filter
def load_sum(grams: int | None, unit: str) -> str:
    """A sum of loads in whole kilograms or pounds; body weight and bands make none."""
    if grams == 0:
        return NO_LOAD
    return UNKNOWN if grams is None else f"{from_grams(grams, unit):,.0f}"


@register.filter
def minutes(amount: Decimal | None) -> str:
    return UNKNOWN if amount is None or amount == "" else f"{amount:.0f}"


@register.filter
def plain_number(amount: Decimal) -> str:
    """Without the noughts that the database keeps: 7, 6.5."""
    return number_text(amount)


@register.filter
def or_dash(text: str) -> str:
    return text or UNKNOWN


@register.filter
def kit_loads(item: KitItem) -> str:
    """Loads as the coach wrote them, such as "3–21 by 1.5 kg"."""
    return f"{item.loads_entered.replace('-', '–').replace('/', ' by ')} {item.unit}"


@register.filter
def call_number(client: Client) -> str:
    """Digits as a phone dials them; in "+31 (0)20" the bracketed nought is not dialled."""
    return re.sub(r"^(\+\d+)\s*\(0\)|[^\d+]", r"\1", client.phone)
