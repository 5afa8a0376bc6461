from __future__ import annotations

from django import template
from django.template import Context
from django.template.loader import get_template
from django.utils.safestring import SafeString

register = template.Library()


@register.simple_tag(takes_context=True)
def rows(context: Context, name: str, **things: object) -> SafeString:
    """Includes `desk/rows/NAME.jinja`, which sees what the page sees, and `things`."""
    drawn = get_template(f"desk/rows/{name}.jinja", using="jinja2").render({**context.flatten(), **things})
    return SafeString(drawn)
