"""What a coach notes before, in and after a check-in call."""

from __future__ import annotations

from typing import Any

from django import forms

from coaching.monitoring.acts import TEXT_LENGTH
from roster.people.models import CheckInAnswer, Promise

PROMISE_LENGTH = Promise._meta.get_field("text").max_length


def _day(label: str, **more: Any) -> forms.DateField:
    # A date field of a browser takes days in this form alone.
    return forms.DateField(label=label, widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}), **more)


class CallForm(forms.Form):
    """`verb` is on its button."""

    verb = ""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **{"label_suffix": "", **kwargs})


class AnswersForm(CallForm):
    """The three questions; what is noted already stands in them."""

    verb = "Keep the answers"

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for question in CheckInAnswer.Question:
            self.fields[question.value] = forms.CharField(
                label=question.label, required=False, max_length=TEXT_LENGTH,
                widget=forms.Textarea(attrs={"rows": 2}),
            )  # fmt: skip


class HeldForm(CallForm):
    verb = "The call was held"

    on = _day("Held on", error_messages={"required": "Say on which day.", "invalid": "Say on which day."})
    outcome = forms.CharField(
        label="What came of it", max_length=TEXT_LENGTH, widget=forms.Textarea(attrs={"rows": 3}),
        error_messages={"required": "Write what came of it."},
    )  # fmt: skip
    promise = forms.CharField(label="Promised", required=False, max_length=PROMISE_LENGTH)
    promise_by = _day("Promised by", required=False)
    next_on = _day("Next call", required=False, help_text="Empty: in the usual rhythm.")

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        by, on = cleaned.get("promise_by"), cleaned.get("on")
        if by and not cleaned.get("promise"):
            self.add_error("promise", "Write what was promised.")
        if by and on and by < on:
            self.add_error("promise_by", "That is before the call.")
        return cleaned


class MoveForm(CallForm):
    verb = "Move the call"

    to = _day("To", required=False, help_text="Empty: back to the usual rhythm.")
