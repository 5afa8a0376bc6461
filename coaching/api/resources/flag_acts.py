"""What a coach does about a finding, by a program: the same acts as on the pages, on the state that was read."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Sequence
from datetime import date, datetime
from typing import Any, ClassVar
from uuid import UUID

from django.http import Http404
from django.utils import timezone
from django.utils.http import parse_etags
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from coaching.api.answering import Answering
from coaching.api.json_form import Json, etag_of
from coaching.api.problems import IfMatchMissing, Stale
from coaching.api.questions import check_names
from coaching.api.resources.flags import EXAMPLE, FlagRow, find_for_act, finding_row
from coaching.api.views_made import record_views
from coaching.monitoring import acts
from coaching.monitoring.acts import TEXT_LENGTH
from coaching.monitoring.fact_pages import Placed
from coaching.monitoring.fact_shapes import Row
from coaching.monitoring.models import Flag
from roster.people.models import Client, Coach, Contact


class WithWords(serializers.Serializer[Any]):
    """Unknown members are refused: a misspelt one would be lost in silence."""

    contact = serializers.ChoiceField(
        Contact.How.choices, required=False, help_text="That you have just called, written to or met the client."
    )
    note = serializers.CharField(
        max_length=TEXT_LENGTH, required=False, allow_blank=True, help_text="A note, kept with the act and the contact."
    )

    def to_internal_value(self, data: Any) -> Any:
        unknown = sorted(set(data) - set(self.fields)) if isinstance(data, dict) else []
        if unknown:
            raise serializers.ValidationError({name: ["There is no such member here."] for name in unknown})
        return super().to_internal_value(data)


class SeenBody(WithWords):
    pass


class PutAsideBody(WithWords):
    until = serializers.DateField(help_text="The day on which it comes back; for pain tomorrow at the latest.")


class CloseBody(WithWords):
    note = serializers.CharField(max_length=TEXT_LENGTH, help_text="Why it is closed.")


class Act(Answering, ABC):
    """Needs the scope `act`, and an If-Match with the ETag of the finding as it was read."""

    name, shape, example, takes_as_of = "flags", FlagRow, EXAMPLE, False
    body: ClassVar[type[WithWords]]
    body_example: ClassVar[Row] = {}

    def post(self, request: Request, public_id: UUID) -> Response:
        check_names(request, set())
        now = timezone.now()
        found = find_for_act(request.user, public_id, now)
        if found is None:
            raise Http404
        wanted = _states_named(request)
        body = self.body(data=request.data)
        body.is_valid(raise_exception=True)
        client, _ = found
        with acts.holding(client, now):
            row = self._done(request.user, client, public_id, wanted, body.validated_data, now)
        return Response(row, headers={"ETag": etag_of(Json().render(row))})

    def _done(
        self, coach: Coach, client: Client, public_id: UUID, wanted: Sequence[str], words: Row, now: datetime
    ) -> Row:
        # Read again, now that nobody else changes it.
        again = find_for_act(coach, public_id, now)
        if again is None:
            raise Http404
        placed: Placed = again[1]
        self._check_state(placed, wanted)
        on, note = placed.person.day, words.get("note", "")
        if words.get("contact"):
            acts.keep_contact(client=client, by=coach, on=on, how=words["contact"], outcome=note)
        self.act(placed.fact, coach, on, words | {"note": note})
        record_views(coach, [placed.person], self.name)
        return self.shown(finding_row(*placed))

    def _check_state(self, placed: Placed, wanted: Sequence[str]) -> None:
        present = etag_of(Json().render(self.shown(finding_row(*placed))))
        if present not in wanted and "*" not in wanted:
            raise Stale

    @abstractmethod
    def act(self, flag: Flag, coach: Coach, on: date, words: Row) -> None:
        """Do it, on the client's own day."""


def _states_named(request: Request) -> list[str]:
    given = request.headers.get("If-Match")
    if given is None:
        raise IfMatchMissing
    return parse_etags(given)


class MarkSeen(Act):
    summary, body, body_example = "Mark a finding as seen.", SeenBody, {"contact": "call", "note": "slept badly"}

    def act(self, flag: Flag, coach: Coach, on: date, words: Row) -> None:
        acts.mark_seen(flag=flag, by=coach, on=on, note=words["note"])


class PutAside(Act):
    summary = "Put a finding aside until a day; pain for a day at most, with a contact recorded."
    body, body_example = PutAsideBody, {"until": "2026-04-10", "note": "away until then"}

    def act(self, flag: Flag, coach: Coach, on: date, words: Row) -> None:
        acts.put_aside(flag=flag, by=coach, on=on, until=words["until"], note=words["note"])


class Close(Act):
    summary, body, body_example = "Close a finding, with a reason.", CloseBody, {"note": "new load agreed"}

    def act(self, flag: Flag, coach: Coach, on: date, words: Row) -> None:
        acts.close(flag=flag, by=coach, on=on, reason=words["note"])
