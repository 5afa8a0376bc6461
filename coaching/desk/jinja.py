"""The desk's second template language, Jinja2, for what a page repeats by the hundred: `templates/desk/rows/*.jinja`.

Everything else is in the language of the framework, which takes several times as long for a row.
"""

from __future__ import annotations

from datetime import date
from typing import Any

from jinja2 import Environment, StrictUndefined

from coaching.desk import days
from coaching.desk.addresses import client_address
from coaching.monitoring.plain_words import counted, day_text


def environment(**options: Any) -> Environment:
    """Escapes what it is given, and fails where a name is misspelt."""
    made = Environment(**{**options, "undefined": StrictUndefined}, trim_blocks=True, lstrip_blocks=True)
    made.globals["address"] = client_address
    made.filters |= {"ago": days.ago, "counted": counted, "day_text": day_text, "long_day": _long_day}
    return made


def _long_day(day: date) -> str:
    return f"{day.day} {day:%b %Y}"
