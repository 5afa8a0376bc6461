"""Views of the interface: what they share is how they answer, so that each resource tells only what it holds."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Sequence
from functools import cache
from typing import Any, ClassVar
from uuid import UUID

from django.db.models import QuerySet
from django.http import Http404
from django.http.response import HttpResponseBase
from django.utils import timezone
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
from coaching.monitoring.conditions import Condition, value_at
from coaching.monitoring.fact_pages import Person, Placed, Wanted, beyond, position_of, read_page
from coaching.monitoring.fact_shapes import Row
from coaching.monitoring.fact_sources import FactSource
from roster.people.models import Client


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


class ListOf(Answering, ABC):
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

    @abstractmethod
    def read(self, wanted: Wanted) -> Sequence[Any]:
        """One more than wanted, if there is one."""

    @abstractmethod
    def position(self, one: Any) -> Position:
        """Where in the list it stands, for the page after it."""

    @abstractmethod
    def rows(self, page: Sequence[Any]) -> list[Row]:
        """What is told of them."""


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

    @abstractmethod
    def queryset(self, wanted: Wanted) -> QuerySet[Any]:
        """What there is to see, before the page and its order are chosen."""

    def read(self, wanted: Wanted) -> Sequence[Any]:
        rows = self.queryset(wanted)
        if wanted.after:
            rows = rows.filter(beyond(self.order, wanted.after))
        return list(rows.order_by(*self.order)[: wanted.size + 1])

    def position(self, one: Any) -> Position:
        return tuple(value_at(one, path) for path in self.order)


class OneOf(Answering, ABC):
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

    @abstractmethod
    def find(self, request: Request, public_id: UUID) -> tuple[Person | None, Row] | None:
        """Whom it is about, where it is about somebody, and the row; None for what nobody may see."""


class OneFact(OneOf):
    """One fact by the id of what it is about, as at a day."""

    source: ClassVar[FactSource]
    # The row that bears the id, by the way to it from the fact and from its client.
    about: ClassVar[str]
    of_client: ClassVar[str]

    @abstractmethod
    def rows(self, page: Sequence[Placed]) -> list[Row]:
        """What is told of them, as in the list."""

    def find(self, request: Request, public_id: UUID) -> tuple[Person, Row] | None:
        clients = Client.objects.visible_to(request.user).filter(**{f"{self.of_client}__public_id": public_id})
        wanted = Wanted(
            clients=clients, studio=request.user.studio, as_of=read_as_of(request), now=timezone.now(), size=1,
            conditions=[Condition(f"{self.about}__public_id", "exact", public_id)],
        )
        page = read_page(self.source, wanted)
        return (page[0].person, self.rows(page)[0]) if page else None


@cache
def page_shape(shape: type[RowOf]) -> type[serializers.Serializer[Any]]:
    """A page of rows, for the documents."""
    members = {
        "next": serializers.URLField(allow_null=True, help_text="The address of the next page; null on the last."),
        "results": shape(many=True),
    }
    return type(f"PageOf{shape.__name__}s", (serializers.Serializer,), members)
