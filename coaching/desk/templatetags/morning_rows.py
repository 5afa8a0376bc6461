from __future__ import annotations

from collections.abc import Iterable

from django import template
from django.template import Context
from django.template.loader import get_template
from django.utils.safestring import SafeString

from coaching.desk.addresses import story_address
from coaching.desk.findings import Finding
from coaching.desk.patterns import Pattern, StandIn
from coaching.desk.roster import Person
from coaching.desk.rows import Row

register = template.Library()

_ROW_ID = "row.client.public_id"


@register.simple_tag(takes_context=True)
def morning_rows(context: Context, marked_rows: Iterable[tuple[Row, bool]]) -> SafeString:
    """Rows of the Morning list, each with whether it waits on a phone."""
    pattern = _pattern(context, "desk/_morning_row.html", waits=StandIn("waits"), behind=StandIn("behind"))
    filled = [
        pattern.fill({"row": row, "waits": " waits" if waits else "", "behind": findings_behind(context, row)})
        for row, waits in marked_rows
    ]
    return SafeString("".join(filled))


@register.simple_tag(takes_context=True)
def findings_behind(context: Context, row: Row) -> SafeString:
    """All that is up with one client, each finding with its evidence and what can be done about it."""
    filled = [_finding_pattern(context, one).fill({"row": row, "finding": one}) for one in row.findings]
    return SafeString("".join(filled))


@register.simple_tag(takes_context=True)
def client_links(context: Context, clients: Iterable[Person]) -> SafeString:
    """Names that lead to stories."""
    pattern = _pattern(context, "desk/_client_link.html", client=StandIn("client"), address=StandIn("address"))
    filled = [pattern.fill({"client": client, "address": story_address(client)}) for client in clients]
    return SafeString("".join(filled))


def _finding_pattern(context: Context, finding: Finding) -> Pattern:
    return _pattern(context, "desk/_finding.html", finding=StandIn("finding", is_pain=finding.is_pain))


def _pattern(context: Context, name: str, **stand_ins: StandIn) -> Pattern:
    # Kept with the request, which all parts of a page share, and whose token the forms hold.
    kept: dict[tuple[object, ...], Pattern] = context["request"].__dict__.setdefault("patterns_of_rows", {})
    key = (name, *(tuple(one._known.items()) for one in stand_ins.values()))
    if key not in kept:
        with context.push(row=StandIn("row"), **stand_ins):
            kept[key] = Pattern(get_template(name).template.render(context), _ROW_ID)
    return kept[key]
