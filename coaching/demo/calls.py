"""The demo's check-in calls: those of the last two months, with what came of them, and when the next ones are due."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from roster.people.models import CheckIn, CheckInAnswer, Client, Coach, Studio

EVERY_DAYS = 28
BEGAN_DAYS_AGO = 70
CALLS_BACK = (2, 1)
# Nobody was called so soon after joining.
SETTLING_IN = timedelta(days=14)
# Whose call should have been a while ago, by their place in the order of names, and how long.
FORGOTTEN, FORGOTTEN_DAYS = 4, 9


@dataclass(frozen=True)
class Call:
    well: str
    in_the_way: str
    change: str
    outcome: str


CALLS = (
    Call("Mornings. I am done before the house wakes up.", "Two late shifts.", "Nothing, keep it as it is.",
         "Goes on as planned; late shifts are marked in the plan."),
    Call("The hinge feels like mine now.", "The last set is always rushed.", "A bit more rest before the rows.",
         "Rows move to the end, with two minutes of rest."),
    Call("I carried both cases up myself.", "A cold, and then no drive.", "Shorter sessions for a while.",
         "Two short sessions a week until the month is over."),
    Call("Found a corner for the bells at work.", "Travelling on Thursdays.", "Friday instead of Thursday.",
         "The third session moves to Friday."),
)  # fmt: skip


def hold_calls(studio: Studio, by: Coach, today: date) -> None:
    """Of everybody who is active; a few calls are due now, and one is overdue."""
    begins = today - timedelta(days=BEGAN_DAYS_AGO)
    Studio.objects.filter(pk=studio.pk).update(check_ins_from=begins)
    for number, client in enumerate(Client.objects.filter(studio=studio).active().order_by("name", "pk")):
        client.next_call_on = _next_due(number, today)
        client.save(update_fields=["next_call_on"])
        for back in CALLS_BACK:
            due_on = client.next_call_on - timedelta(days=back * EVERY_DAYS)
            if due_on >= max(begins, client.joined_on + SETTLING_IN):
                _hold(client, by, due_on, number + back)
    _note_ahead(studio, by)


def _next_due(number: int, today: date) -> date:
    if number == FORGOTTEN:
        return today - timedelta(days=FORGOTTEN_DAYS)
    return today + timedelta(days=number * 5 % EVERY_DAYS - 1)


def _hold(client: Client, by: Coach, due_on: date, number: int) -> None:
    said = CALLS[number % len(CALLS)]
    held_on = due_on + timedelta(days=number % 3)
    call = CheckIn.objects.create(client=client, due_on=due_on, held_on=held_on, held_by=by, outcome=said.outcome)
    _note(call, by, well=said.well, in_the_way=said.in_the_way, change=said.change)


def _note_ahead(studio: Studio, by: Coach) -> None:
    """Whose call comes first has sent two of the three answers."""
    first = Client.objects.filter(studio=studio).active().order_by("next_call_on", "pk")[1:2]
    for client in first:
        call = CheckIn.objects.create(client=client)
        _note(call, by, well="Every session but one.", in_the_way="The stairs at work, oddly.")


def _note(call: CheckIn, by: Coach, **answers: str) -> None:
    CheckInAnswer.objects.bulk_create(
        CheckInAnswer(check_in=call, question=question, text=text, noted_by=by) for question, text in answers.items()
    )
