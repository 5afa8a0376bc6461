"""Puts around the loaded files what a coach would have added by hand: talks, promises, notes, cautions, calls."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

from django.db import transaction

from coaching.demo.calls import hold_calls
from coaching.demo.said import CAREFUL_WITH, NOTICED_BY, OF_A_FINDING, OF_THE_OTHERS, Said
from coaching.simulation.rows import Row
from roster.labels import fold
from roster.people.models import Client, Coach, Contact, Limitation, Note, Promise, Studio

# Numbers that the British regulator keeps for plays and films.
PHONE = "+44 7700 900{:03d}"


@transaction.atomic
def furnish(studio: Studio, by: Coach, truth: list[Row], today: date) -> None:
    """Once for a studio; what holds today decides what was said."""
    if Contact.objects.filter(client__studio=studio).exists():
        return
    situations = {row["client"]: row for row in reversed(truth) if _holds(row, today)}
    for number, client in enumerate(Client.objects.filter(studio=studio).order_by("name", "pk")):
        row = situations.get(client.key)
        _add_reach(client, number, today)
        _add_words(client, by, _said(row, number), today)
        if row and row["kind"] == "pain":
            _spare(client, row["subject"], "Hurt in training, see the log.", today - timedelta(days=3))
    for client, (what, note) in zip(_without_limitation(studio), CAREFUL_WITH, strict=False):
        _spare(client, what, note, client.joined_on)
    _add_somebody_who_left(studio, by, today)
    hold_calls(studio, by, today)


def _holds(row: Row, day: date) -> bool:
    return row["holds_from"] <= str(day) and (not row["holds_until"] or str(day) <= row["holds_until"])


def _said(row: Row | None, number: int) -> Said:
    if row is None:
        return OF_THE_OTHERS[number % len(OF_THE_OTHERS)]
    word = row["subject"] if row["kind"] == "turnout" else row["kind"]
    return OF_A_FINDING.get(word, OF_A_FINDING["ready"])


def _add_reach(client: Client, number: int, today: date) -> None:
    """How to reach them, and how the two will notice that the goal is reached."""
    client.phone = PHONE.format(number)
    client.goal_by = today + timedelta(days=40 + number * 11 % 90)
    client.goal_noticed_by = NOTICED_BY[number % len(NOTICED_BY)]
    client.save(update_fields=["phone", "goal_by", "goal_noticed_by"])


def _add_words(client: Client, by: Coach, said: Said, today: date) -> None:
    made_on = max(today - timedelta(days=said.days_ago), min(client.joined_on, today))
    Contact.objects.create(client=client, made_by=by, how=said.how, made_on=made_on, outcome=said.outcome)
    if said.promise:
        due_on = max(today + timedelta(days=said.due_in_days), made_on)
        Promise.objects.create(client=client, text=said.promise, made_on=made_on, due_on=due_on)
    if said.note:
        note = Note.objects.create(client=client, written_by=by, text=said.note)
        Note.objects.filter(pk=note.pk).update(written_at=datetime.combine(made_on, time(18, 30), UTC))


def _without_limitation(studio: Studio) -> list[Client]:
    return list(Client.objects.filter(studio=studio, limitations__isnull=True).order_by("joined_on", "pk"))


def _spare(client: Client, what: str, note: str, from_on: date) -> None:
    Limitation.objects.create(client=client, what=what, from_on=max(from_on, client.joined_on), note=note)


def _add_somebody_who_left(studio: Studio, by: Coach, today: date) -> None:
    key = "hedda.munro"
    Client.objects.create(
        studio=studio,
        lead=by,
        key=key,
        key_folded=fold(key),
        name="Hedda Munro",
        email="hedda.munro@example.org",
        joined_on=today - timedelta(days=420),
        state=Client.State.ENDED,
        ended_on=today - timedelta(days=61),
        ended_reason="Moved away, trains with a club there now.",
        goal="A deadlift of my own weight",
    )
