from __future__ import annotations

from typing import Any

import pytest
from django.apps import apps
from django.db.models import CharField, Field, JSONField, Model, TextField

from tests.isolation.routes import DESK, admin_patterns, all_routes, api_patterns
from tests.isolation.world import World

OUR_APPS = ("people", "blocks", "logs", "monitoring", "check_ins", "api")
# Texts that are no free ones: they have a form of their own, or hold numbers, or the defaults.
NO_FREE_TEXT = {
    "time_zone", "usual_days", "unit", "email", "password", "first_name", "last_name", "thresholds", "loads_g",
    "set_targets", "digest", "token_key", "scopes", "sign_in_mark",
}  # fmt: skip


def models() -> list[type[Model]]:
    return [model for label in OUR_APPS for model in apps.get_app_config(label).get_models()]


def free_texts(model: type[Model]) -> list[Field[Any, Any]]:
    return [
        field
        for field in model._meta.concrete_fields
        if isinstance(field, CharField | TextField | JSONField) and not field.choices and field.name not in NO_FREE_TEXT
    ]


def test_every_route_is_told_what_it_is() -> None:
    """ASVS 5.0 8.1.1"""
    found = {route.pattern for route in all_routes()}

    assert found == set(DESK) | api_patterns() | admin_patterns()


@pytest.mark.parametrize("model", models(), ids=lambda model: model._meta.label)
def test_every_kind_of_row_is_there_with_its_word_in_every_free_text(world: World, model: type[Model]) -> None:
    for filled in world.clients.values():
        row = filled.rows[model]
        texts = [str(getattr(row, field.name)) for field in free_texts(model)]

        assert [text for text in texts if filled.word not in text and filled.studio_word not in text] == []
