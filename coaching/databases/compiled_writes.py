"""Rows put into a table without an object for each: the SQL is Django's, written once, and run for row after row."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property
from typing import Any

from django.db import DEFAULT_DB_ALIAS, connection
from django.db.models import DateField, DateTimeField, Field, Model
from django.db.models.constants import OnConflict
from django.db.models.sql import InsertQuery

from coaching.databases.compiled import Row


class CompiledWrite:
    """Puts rows into a table, each in the place of the row with its key, if there is one.

    Values are those of the database: whole numbers, fractions, true and false, text, days and None.
    """

    def __init__(self, model: type[Model], names: Sequence[str], key: Sequence[str]) -> None:
        by_name = {field.attname: field for field in model._meta.concrete_fields}
        self._model, self._fields = model, [by_name[name] for name in names]
        self._key = [by_name[name] for name in key]
        self._days = [index for index, field in enumerate(self._fields) if _is_of_days(field)]

    def write(self, rows: Iterable[Row]) -> None:
        adapted = [self._adapted(row) for row in rows]
        if adapted:
            with connection.cursor() as cursor:
                cursor.executemany(self._sql, adapted)

    def _adapted(self, row: Row) -> list[Any]:
        values = list(row)
        for index in self._days:
            values[index] = connection.ops.adapt_datefield_value(values[index])
        return values

    @cached_property
    def _sql(self) -> str:
        query = InsertQuery(
            self._model,
            on_conflict=OnConflict.UPDATE,
            update_fields=[field for field in self._fields if field not in self._key],
            unique_fields=self._key,
        )
        query.insert_values(self._fields, [self._model()])
        [(sql, _)] = query.get_compiler(DEFAULT_DB_ALIAS).as_sql()
        return sql


def _is_of_days(field: Field[Any, Any]) -> bool:
    return isinstance(field, DateField) and not isinstance(field, DateTimeField)
