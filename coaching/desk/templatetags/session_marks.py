from __future__ import annotations

from collections.abc import Iterable

from django import template
from django.utils.safestring import SafeString

from coaching.desk import marks
from coaching.monitoring.reading import SessionMark

register = template.Library()


@register.simple_tag
def session_mark(one: SessionMark | marks.ExtraMark) -> SafeString:
    return marks.mark(one)


@register.simple_tag
def session_strip(several: Iterable[SessionMark | marks.ExtraMark], label: str = "") -> SafeString:
    return marks.strip(several, label)


@register.simple_tag
def mark_legend() -> SafeString:
    return marks.legend()
