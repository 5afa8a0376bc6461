"""What clients answered to the three questions of the call that a period's pack is for: the first one held after the
period, or else the one to come. The latest answer to a question stands; empty is not answered.
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from django.db.models import Q

from coaching.check_ins.content import Answer, Period
from roster.people.models import CheckIn, CheckInAnswer

_NOBODY_ANSWERED: dict[str, str] = {}


def read_answers(client_ids: Collection[int], period: Period) -> dict[int, tuple[Answer, ...]]:
    """By client: the three questions in their order."""
    calls = _calls(client_ids, period)
    texts: dict[int, dict[str, str]] = {}
    noted = CheckInAnswer.objects.filter(check_in__in=calls.values()).order_by("pk")
    for call, question, text in noted.values_list("check_in_id", "question", "text"):
        texts.setdefault(call, {})[question] = text
    return {pk: _answers(texts.get(calls.get(pk, 0), _NOBODY_ANSWERED)) for pk in client_ids}


def _calls(client_ids: Collection[int], period: Period) -> dict[int, int]:
    """Of each client the call, if there is one."""
    of_period = CheckIn.objects.filter(client_id__in=client_ids).filter(
        Q(held_on__isnull=True) | Q(held_on__gt=period.last)
    )
    rows = of_period.order_by().values_list("client_id", "held_on", "pk")
    latest_first = sorted(rows, key=lambda row: (row[1] or date.max, row[2]), reverse=True)
    return {client_id: pk for client_id, _, pk in latest_first}


def _answers(texts: dict[str, str]) -> tuple[Answer, ...]:
    return tuple(
        Answer(str(label), texts.get(question, "")) for question, label in CheckInAnswer.Question.choices
    )
