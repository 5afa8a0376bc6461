"""Reads that are asked for one client after another, put into SQL once.

Django writes the SQL of a queryset anew each time it is asked, and looks at each value of each row that comes back.
Where a few hundred rows of one client are read from a dozen tables, that takes several times as long as the database.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property, partial
from typing import Any, NamedTuple

from django.db import DEFAULT_DB_ALIAS, connection
from django.db.models import Model, QuerySet

Row = tuple[Any, ...]

# Statements are kept for so many ids; for more of them the rows take longer than the SQL.
MOST_IDS_KEPT = 64
# Stand for ids while a statement is written: numbers that are no row's.
_PLACES = range(-(2**62), -(2**62) + MOST_IDS_KEPT)
# What drivers give as text, or without a zone.
_READ_BY_DJANGO = ("JSONField", "DateTimeField")


class _Statement(NamedTuple):
    sql: str
    parameters: tuple[Any, ...]
    converters: list[tuple[int, Callable[[Any], Any]]]


class CompiledRead:
    """Columns of the rows that have to do with some ids; `found` makes their queryset from a list of ids.

    Numbers with decimals come as the driver gives them, as float or as Decimal.
    """

    def __init__(self, found: Callable[[Sequence[int]], QuerySet[Any]], names: Sequence[str]) -> None:
        self._found, self.names = found, list(names)
        self._kept: dict[int, _Statement] = {}

    def rows(self, ids: Iterable[int]) -> list[Row]:
        """The rows of different ids."""
        wanted = list(ids)
        if not wanted:
            return []
        statement = self._statement(wanted)
        with connection.cursor() as cursor:
            cursor.execute(statement.sql, statement.parameters)
            rows = cursor.fetchall()
        return _converted(rows, statement.converters) if statement.converters else rows

    def columns(self, ids: Iterable[int]) -> list[tuple[Any, ...]]:
        """The rows' values by column; empty columns where there is no row."""
        rows = self.rows(ids)
        return list(zip(*rows, strict=True)) if rows else [() for _ in self.names]

    def objects(self, ids: Iterable[int]) -> Iterator[Any]:
        """The rows as objects; a column that is not read is fetched when it is asked for."""
        return (self._model.from_db(DEFAULT_DB_ALIAS, self.names, row) for row in self.rows(ids))

    def queryset(self, ids: Sequence[int]) -> QuerySet[Any]:
        """What is read, as Django would read it."""
        return self._found(ids).values_list(*self.names)

    @cached_property
    def _model(self) -> type[Model]:
        return self._found([]).model

    def _statement(self, ids: list[int]) -> _Statement:
        if len(ids) > MOST_IDS_KEPT:
            return self._written(ids)
        if len(ids) not in self._kept:
            self._kept[len(ids)] = self._written(_PLACES[: len(ids)])
        kept = self._kept[len(ids)]
        id_at = dict(zip(_PLACES, ids, strict=False))
        return kept._replace(parameters=tuple(id_at.get(value, value) for value in kept.parameters))

    def _written(self, ids: Sequence[int]) -> _Statement:
        compiler = self.queryset(ids).query.get_compiler(DEFAULT_DB_ALIAS)
        sql, parameters = compiler.as_sql()
        expressions = [expression for expression, _, _ in compiler.select]
        converters = [
            (index, partial(_convert, functions, expression))
            for index, (functions, expression) in compiler.get_converters(expressions).items()
            if expression.output_field.get_internal_type() in _READ_BY_DJANGO
        ]
        return _Statement(sql, tuple(parameters), converters)


def all_columns(model: type[Model]) -> list[str]:
    """The names under which objects of the model keep what the database has of them."""
    return [field.attname for field in model._meta.concrete_fields]


def _convert(functions: list[Callable[..., Any]], expression: Any, value: Any) -> Any:
    for function in functions:
        value = function(value, expression, connection)
    return value


def _converted(rows: list[Row], converters: list[tuple[int, Callable[[Any], Any]]]) -> list[Row]:
    found = []
    for row in rows:
        values = list(row)
        for index, convert in converters:
            if values[index] is not None:
                values[index] = convert(values[index])
        found.append(tuple(values))
    return found
