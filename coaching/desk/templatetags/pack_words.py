from __future__ import annotations

from django import template

from coaching.check_ins.content import Part
from coaching.desk.pack_forms import Field

register = template.Library()


@register.filter
def of_part(fields: dict[str, list[Field]], part: Part) -> list[Field]:
    return fields[part.value]
