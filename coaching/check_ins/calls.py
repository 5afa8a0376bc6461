"""What a coach does about a check-in call: notes what the client answered, holds it, moves it.

Each comes within `holding`, and is refused where a colleague has changed something about that call meanwhile.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from datetime import date, datetime, timedelta

from django.db import transaction

from coaching.monitoring import acts
from coaching.monitoring.models import ClientState
from coaching.monitoring.refresh import refresh_clients
from roster.people.models import CheckIn, CheckInAnswer, Client, Coach, Contact, Promise

LONGEST_AHEAD = timedelta(days=366)
_STAMP_LENGTH = 16


class CallRefused(Exception):
    """It can't be done as asked; the message says why, for the coach to read."""


def stamp_of(client: Client) -> str:
    """Another one once anything about a client's calls is another: answers, the day that was set, a call held."""
    answers = CheckInAnswer.objects.filter(check_in__client=client).order_by("-pk").values_list("pk", flat=True)
    held = client.check_ins.held().order_by("-held_on").values_list("held_on", flat=True)
    next_on = Client.objects.values_list("next_call_on", flat=True).get(pk=client.pk)
    known = f"{answers.first()} {held.first()} {held.count()} {next_on}"
    return hashlib.sha256(known.encode()).hexdigest()[:_STAMP_LENGTH]


def standing_answers(check_in: CheckIn | None) -> dict[str, str]:
    """The text of each question that was noted last; questions without one are left out."""
    noted = check_in.answers.order_by("pk").values_list("question", "text") if check_in else ()
    return {question: text for question, text in dict(noted).items() if text}


@transaction.atomic
def note_answers(*, client: Client, by: Coach, answers: Mapping[str, str]) -> int:
    """Adds what differs from what stands; answers how many that were."""
    call, _ = CheckIn.objects.get_or_create(client=client, held_on=None)
    standing = standing_answers(call)
    new = {question: text for question, text in answers.items() if text != standing.get(question, "")}
    CheckInAnswer.objects.bulk_create(
        CheckInAnswer(check_in=call, question=question, text=text, noted_by=by) for question, text in new.items()
    )
    return len(new)


@transaction.atomic
def hold(
    *,
    client: Client,
    by: Coach,
    on: date,
    now: datetime,
    outcome: str,
    promise: str = "",
    promise_by: date | None = None,
    next_on: date | None = None,
) -> CheckIn:
    """The call was held: what came of it, what was promised, and when the next one is; without a day, in the rhythm."""
    _check_day_of_call(client, on, client.today(now))
    if next_on:
        _check_ahead(next_on, on)
    call = client.check_ins.to_be_held().first() or CheckIn(client=client)
    state = ClientState.objects.filter(client=client).first()
    call.due_on = (state and state.check_in_due_on) or on
    call.held_on, call.held_by, call.outcome, call.next_on = on, by, outcome, next_on
    if promise:
        call.promise = Promise.objects.create(client=client, text=promise, made_on=on, due_on=promise_by)
    call.save()
    acts.keep_contact(client=client, by=by, on=on, how=Contact.How.CALL, outcome=outcome)
    _set_next(client, next_on)
    refresh_clients([client.pk], now)
    return call


@transaction.atomic
def move(*, client: Client, to: date | None, now: datetime) -> bool:
    """The call is due on another day; without one, in the studio's rhythm again. Answers whether that is new."""
    if to:
        _check_ahead(to, client.today(now) - timedelta(days=1))
    if client.next_call_on == to:
        return False
    _set_next(client, to)
    refresh_clients([client.pk], now)
    return True


def _check_day_of_call(client: Client, on: date, today: date) -> None:
    if on > today:
        raise CallRefused("That day has not come yet.")
    if on < client.joined_on:
        raise CallRefused("That was before they joined.")
    last = client.check_ins.held().order_by("-held_on").first()
    if last and on <= last.held_on:
        raise CallRefused(f"The last call was held on {last.held_on:%Y-%m-%d}: the next one comes after it.")


def _check_ahead(day: date, after: date) -> None:
    if day <= after:
        raise CallRefused("The next call is on a day that is still to come.")
    if day > after + LONGEST_AHEAD:
        raise CallRefused("The next call is within a year.")


def _set_next(client: Client, next_on: date | None) -> None:
    client.next_call_on = next_on
    client.version += 1
    client.save(update_fields=["next_call_on", "version"])
