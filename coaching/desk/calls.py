"""One client's check-in calls, as their page shows them: the one to come, and those that were held."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from analytics.flag_thresholds import Thresholds
from coaching.monitoring import reading
from roster.people.models import CheckIn, CheckInAnswer, Client


@dataclass(frozen=True)
class HeldCall:
    call: CheckIn
    # Question and answer, in the order of the questions.
    answers: list[tuple[str, str]]


@dataclass(frozen=True)
class Calls:
    # None where no call is due: the studio has none, or the client is not active.
    due_on: date | None
    # Whether the three questions are out.
    is_asked: bool
    answers: dict[str, str]
    # Newest first.
    held: list[HeldCall]

    @property
    def told(self) -> list[tuple[str, str]]:
        return in_order(self.answers)


def read_calls(client: Client, day: date, as_of: date | None) -> Calls:
    """As at the day; a call that was held later is still to come."""
    facts = reading.read_roster(Client.objects.filter(pk=client.pk), as_of=as_of, with_evidence=False)
    state = facts.states.get(client.pk)
    due_on = state.check_in_due_on if state else None
    calls = list(client.check_ins.select_related("promise", "held_by").prefetch_related("answers"))
    held = [call for call in calls if call.held_on and call.held_on <= day]
    # On a day gone by the next one to be held, today the one that is open.
    to_come = sorted((call for call in calls if call not in held), key=_held_on)
    ahead = timedelta(days=Thresholds.with_settings(client.studio.thresholds).check_in_ahead_days)
    return Calls(
        due_on=due_on,
        is_asked=due_on is not None and day >= due_on - ahead,
        answers=_standing(to_come[0].answers.all(), day) if to_come else {},
        held=[
            HeldCall(call, in_order(_standing(call.answers.all(), None)))
            for call in sorted(held, key=_held_on, reverse=True)
        ],
    )


def _held_on(call: CheckIn) -> date:
    return call.held_on or date.max


def _standing(answers: Sequence[CheckInAnswer], until: date | None) -> dict[str, str]:
    noted = [answer for answer in answers if until is None or answer.noted_at.date() <= until]
    latest = {answer.question: answer.text for answer in noted}
    return {question: text for question, text in latest.items() if text}


def in_order(answers: dict[str, str]) -> list[tuple[str, str]]:
    return [(one.label, answers[one.value]) for one in CheckInAnswer.Question if one.value in answers]
