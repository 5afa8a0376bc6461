"""Filters of the lists: each has its words and an example for the documents, and refuses what it does not know."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date
from typing import Any

import django_filters
from django import forms

from coaching.monitoring.conditions import Condition
from coaching.monitoring.models import Flag
from coaching.monitoring.piles import PILE_OF_KIND, SHOWN_PILES
from roster.labels import fold

_ISO_WEEK = re.compile(r"(\d{4})-W(\d{2})")
_BOOLEANS = [("true", "true"), ("false", "false")]
Choices = Iterable[tuple[str, str]]


class WeekField(forms.CharField):
    """An ISO week such as 2026-W14, as its Monday."""

    def clean(self, value: Any) -> date | None:
        text = super().clean(value)
        if not text:
            return None
        found = _ISO_WEEK.fullmatch(text)
        try:
            return date.fromisocalendar(int(found[1]), int(found[2]), 1)  # type: ignore[index]
        except (TypeError, ValueError):
            raise forms.ValidationError("This is no ISO week such as 2026-W14.") from None


class DayField(forms.DateField):
    def __init__(self, **options: Any) -> None:
        super().__init__(input_formats=["%Y-%m-%d"], error_messages={"invalid": "This is no day such as 2026-04-15."},
                         **options)


class WordsField(forms.CharField):
    def clean(self, value: Any) -> str:
        return fold(super().clean(value))


class WordsFilter(django_filters.CharFilter):
    field_class = WordsField


class WeekFilter(django_filters.Filter):
    field_class = WeekField


class DayFilter(django_filters.Filter):
    field_class = DayField


def week(path: str, how: str, words: str) -> WeekFilter:
    return WeekFilter(field_name=path, lookup_expr=how, help_text=f"{words} An ISO week.")


def day(path: str, how: str, words: str) -> DayFilter:
    return DayFilter(field_name=path, lookup_expr=how, help_text=words)


def one(path: str, words: str) -> django_filters.UUIDFilter:
    return django_filters.UUIDFilter(field_name=path, help_text=f"{words} By its id.")


def any_of(path: str, choices: Choices, words: str) -> django_filters.MultipleChoiceFilter:
    return django_filters.MultipleChoiceFilter(
        field_name=path, lookup_expr="in", choices=list(choices), help_text=f"{words} May be given several times."
    )


def whether(path: str, words: str) -> django_filters.TypedChoiceFilter:
    return django_filters.TypedChoiceFilter(
        field_name=path, choices=_BOOLEANS, coerce=lambda text: text == "true", help_text=words
    )


def words_in(path: str, words: str) -> WordsFilter:
    """`path` leads to a folded text: which letters are capitals of which, databases don't agree on."""
    return WordsFilter(field_name=path, lookup_expr="contains", max_length=100, help_text=words)


class PileFilter(django_filters.MultipleChoiceFilter):
    """A pile of the Morning list, as the kinds that lie on it."""


def pile(path: str, words: str) -> PileFilter:
    choices = [(one.anchor, one.value) for one in SHOWN_PILES]
    return PileFilter(field_name=path, lookup_expr="in", choices=choices,
                      help_text=f"{words} May be given several times.")


def pile_of(flag: Flag) -> str:
    return PILE_OF_KIND[flag.kind].anchor


class Filters(django_filters.FilterSet):
    """Read, but not applied here: facts that are computed have no queryset to filter."""

    # Answered by the choice of clients rather than by conditions on facts.
    of_clients = frozenset({"client", "state", "q"})

    @classmethod
    def several(cls) -> set[str]:
        """Those that may be given more than once."""
        kinds = cls.base_filters.items()
        return {name for name, one in kinds if isinstance(one, django_filters.MultipleChoiceFilter)}

    def conditions(self) -> list[Condition]:
        return [
            Condition(one.field_name, one.lookup_expr, _kinds_on(value) if isinstance(one, PileFilter) else value)
            for name, one, value in self.given()
            if name not in self.of_clients
        ]

    def given(self) -> list[tuple[str, django_filters.Filter, Any]]:
        cleaned = self.form.cleaned_data
        return [(name, one, cleaned[name]) for name, one in self.filters.items() if cleaned[name] not in ("", None, [])]

    def chosen(self, name: str) -> Any:
        return self.form.cleaned_data.get(name) if name in self.filters else None


class ClientFilters(Filters):
    client = one("client", "Of one client.")


def _kinds_on(anchors: list[str]) -> list[str]:
    return [kind for kind, pile in PILE_OF_KIND.items() if pile.anchor in anchors]
