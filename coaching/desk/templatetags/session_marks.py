from __future__ import annotations

from django import template
from django.utils.safestring import SafeString

from coaching.desk import marks

register = template.Library()


@register.simple_tag
def mark_legend() -> SafeString:
    return marks.legend()
