"""Members of the answers, each with its words for the documents; they are read, never written."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from rest_framework import serializers

from coaching.monitoring.export_formats import json_value
from coaching.monitoring.fact_shapes import Row

Choices = Iterable[tuple[str, str]]


class RowOf(serializers.Serializer[Row]):
    """A row with the members that are told here and no others; what is empty is null."""

    def to_representation(self, row: Row) -> Row:
        return {name: json_value(row[name]) for name in self.fields}


def text(words: str, *, null: bool = False) -> serializers.CharField:
    return serializers.CharField(help_text=words, allow_null=null, read_only=True)


def amount(words: str, *, null: bool = False) -> serializers.FloatField:
    return serializers.FloatField(help_text=words, allow_null=null, read_only=True)


def count(words: str, *, null: bool = False) -> serializers.IntegerField:
    return serializers.IntegerField(help_text=words, allow_null=null, read_only=True)


def truth(words: str, *, null: bool = False) -> serializers.BooleanField:
    return serializers.BooleanField(help_text=words, allow_null=null, read_only=True)


def day(words: str, *, null: bool = False) -> serializers.DateField:
    return serializers.DateField(help_text=words, allow_null=null, read_only=True)


def instant(words: str, *, null: bool = False) -> serializers.DateTimeField:
    return serializers.DateTimeField(help_text=words, allow_null=null, read_only=True)


def ident(words: str, *, null: bool = False) -> serializers.UUIDField:
    return serializers.UUIDField(help_text=words, allow_null=null, read_only=True)


def choice(choices: Choices, words: str) -> serializers.ChoiceField:
    return serializers.ChoiceField(choices=list(choices), help_text=words, read_only=True)


def texts(words: str) -> serializers.ListField:
    return serializers.ListField(child=serializers.CharField(), help_text=words, read_only=True)


def rows(of: type[RowOf], words: str) -> Any:
    return of(many=True, help_text=words, read_only=True)


def client_members() -> tuple[serializers.UUIDField, serializers.CharField]:
    return ident("The client's id."), text("The studio's own key for the client.")
