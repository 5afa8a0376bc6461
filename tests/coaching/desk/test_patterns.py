from __future__ import annotations

from types import SimpleNamespace
from uuid import UUID

import pytest
from django.template import Context, Template
from django.utils.safestring import SafeString

from coaching.desk.patterns import Pattern, StandIn

SOMEBODY = UUID("6f9619ff-8b86-d011-b42d-00c04fc964ff")


def pattern_of(template: str, **known: object) -> Pattern:
    html = Template(template).render(Context({"row": StandIn("row", **known), "tail": StandIn("tail")}))
    return Pattern(html, "row.client.public_id")


def test_a_pattern_says_of_each_row_what_the_template_says() -> None:
    template = "<b>{{ row.client.name }}</b> {{ row.sentence }}{{ tail }}"
    client = SimpleNamespace(name="Bo", public_id=SOMEBODY)
    things = {"row": SimpleNamespace(client=client, sentence="Short twice."), "tail": "!"}

    filled = pattern_of(template).fill(things)

    assert filled == Template(template).render(Context(things)) == "<b>Bo</b> Short twice.!"


@pytest.mark.parametrize("text", ["<script>", "a & b", '"quoted" and \'so\'', "~row.name~", "{{ row.name }}", "%s"])
def test_what_people_typed_is_escaped_as_a_template_would(text: str) -> None:
    things = {"row": SimpleNamespace(name=text), "tail": ""}

    filled = pattern_of('<i title="{{ row.name }}">{{ row.name }}</i>').fill(things)

    assert filled == Template('<i title="{{ row.name }}">{{ row.name }}</i>').render(Context(things))


def test_html_that_was_made_here_is_not_escaped_again() -> None:
    filled = pattern_of("{{ row.marks }}").fill({"row": SimpleNamespace(marks=SafeString("<svg/>")), "tail": ""})

    assert filled == "<svg/>"


def test_addresses_hold_the_id_of_each_client() -> None:
    pattern = pattern_of("{% url 'note_add' row.client.public_id %}")

    filled = pattern.fill({"row": SimpleNamespace(client=SimpleNamespace(public_id=SOMEBODY))})

    assert filled == f"/clients/{SOMEBODY}/notes/"


def test_what_is_known_beforehand_decides_about_parts_of_the_template() -> None:
    template = "{% if row.is_pain %}careful{% else %}go on{% endif %}"

    assert pattern_of(template, is_pain=True).fill({}) == "careful"
    assert pattern_of(template, is_pain=False).fill({}) == "go on"
