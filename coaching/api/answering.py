"""Views of the interface: what they share is how they answer, so that each resource tells only what it holds."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Any, ClassVar
from uuid import UUID

from django.db.models import QuerySet
from django.http import Http404
from django.http.response import HttpResponseBase
from django.utils.cache import get_conditional_response
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from coaching.api.cursors import Position, write_cursor
from coaching.api.fields import RowOf
from coaching.api.json_form import etag_of
from coaching.api.parameters import ClientFilters, Filters
from coaching.api.questions import address_with, check_names, read_as_of, read_question
from coaching.api.views_made import record_views
from coaching.monitoring.conditions import value_at
from coaching.monitoring.fact_pages import Person, Placed, Wanted, beyond, position_of, read_page
from coaching.monitoring.fact_shapes import Row
from coaching.monitoring.fact_sources import FactSource


class Answering(APIView):
    """Reads answer with a strong ETag, and with 304 and no body to whoever has that very content."""

    # The resource's name, as in its address, and a sentence for the documents.
    name: ClassVar[str] = ""
    summary: ClassVar[str] = ""
    shape: ClassVar[type[RowOf]]
    example: ClassVar[Row] = {}
    # Whether it tells of somebody's health: then it is recorded who but the lead coach was shown it.
    tells_health: ClassVar[bool] = False
    takes_as_of: ClassVar[bool] = True

    def options(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Which methods this address takes, in Allow."""
        return Response(status=204)

    def finalize_response(self, request: Request, response: Any, *args: Any, **kwargs: Any) -> HttpResponseBase:
        answer = super().finalize_response(request, response, *args, **kwargs)
        if request.method in {"GET", "HEAD"} and answer.status_code == 200:
            answer.add_post_render_callback(lambda rendered: _only_if_other(request, rendered))
        return answer

    def shown(self, row: Row) -> Row:
        return dict(self.shape().to_representation(row))


def _only_if_other(request: Request, rendered: Response) -> HttpResponseBase:
    rendered.headers["ETag"] = etag_of(rendered.content)
    return get_conditional_response(request._request, etag=rendered.headers["ETag"], response=rendered) or rendered


class ListOf(Answering):
    """A page of rows at a time, each page with the address of the next."""

    filters: ClassVar[type[Filters]] = ClientFilters

    def get(self, request: Request) -> Response:
        wanted = read_question(request, self.name, self.filters, takes_as_of=self.takes_as_of)
        found = self.read(wanted)
        page = found[: wanted.size]
        if self.tells_health:
            record_views(request.user, [one.person for one in page], self.name)
        further = None
        if len(found) > wanted.size:
            further = address_with(request, cursor=write_cursor(self.name, self.position(page[-1])))
        shape = self.shape()
        return Response({"next": further, "results": [shape.to_representation(row) for row in self.rows(page)]})

    def read(self, wanted: Wanted) -> Sequence[Any]:
        """One more than wanted, if there is one."""
        raise NotImplementedError

    def position(self, one: Any) -> Position:
        raise NotImplementedError

    def rows(self, page: Sequence[Any]) -> list[Row]:
        raise NotImplementedError


class FactList(ListOf):
    """Facts and what they are about, as at a day."""

    source: ClassVar[FactSource]

    def read(self, wanted: Wanted) -> Sequence[Placed]:
        return read_page(self.source, wanted)

    def position(self, one: Placed) -> Position:
        return position_of(self.source, one)


class RecordList(ListOf):
    """Rows of the record as they stand."""

    takes_as_of = False
    # Values that tell each row from all others, and in which order they come.
    order: ClassVar[tuple[str, ...]] = ("public_id",)

    def queryset(self, wanted: Wanted) -> QuerySet[Any]:
        raise NotImplementedError

    def read(self, wanted: Wanted) -> Sequence[Any]:
        rows = self.queryset(wanted)
        if wanted.after:
            rows = rows.filter(beyond(self.order, wanted.after))
        return list(rows.order_by(*self.order)[: wanted.size + 1])

    def position(self, one: Any) -> Position:
        return tuple(value_at(one, path) for path in self.order)


class OneOf(Answering):
    """One row by its id."""

    def get(self, request: Request, public_id: UUID) -> Response:
        check_names(request, {"as_of"} if self.takes_as_of else set())
        found = self.find(request, public_id)
        if found is None:
            raise Http404
        person, row = found
        if self.tells_health and person is not None:
            record_views(request.user, [person], self.name)
        return Response(self.shown(row))

    def find(self, request: Request, public_id: UUID) -> tuple[Person | None, Row] | None:
        raise NotImplementedError

    def as_of(self, request: Request) -> Any:
        return read_as_of(request)


@cache
def page_shape(shape: type[RowOf]) -> type[serializers.Serializer[Any]]:
    """A page of rows, for the documents."""
    members = {
        "next": serializers.URLField(allow_null=True, help_text="The address of the next page; null on the last."),
        "results": shape(many=True),
    }
    return type(f"PageOf{shape.__name__}s", (serializers.Serializer,), members)
