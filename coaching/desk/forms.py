"""What a coach does about a finding, and says to or about a client."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from django import forms

from coaching.monitoring.models import Flag, Kind
from roster.people.models import Contact

TEXT_LENGTH = 2000
LONGEST_ASIDE = timedelta(days=366)
# Pain is looked at again every day.
LONGEST_ASIDE_FOR_PAIN = timedelta(days=1)


class WordForm(forms.Form):
    """A contact made, a note, or both."""

    how = forms.ChoiceField(choices=[("", "none yet"), *Contact.How.choices], required=False, label="Contact")
    text = forms.CharField(max_length=TEXT_LENGTH, required=False, label="Note or reason")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **{"label_suffix": "", **kwargs})


class ContactForm(WordForm):
    made_on = forms.DateField(required=False, label="On")

    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today
        self.fields["how"].required = True
        self.fields["how"].error_messages["required"] = "Say how: call, message or met."

    def clean_made_on(self) -> date:
        made_on: date = self.cleaned_data["made_on"] or self.today
        if made_on > self.today:
            raise forms.ValidationError("That day has not come yet.")
        return made_on


class NoteForm(WordForm):
    """A note; with a way of contact given, what was said in it."""

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if not cleaned.get("text") and not cleaned.get("how"):
            self.add_error("text", "Write the note first.")
        return cleaned


class ActForm(WordForm):
    """Something done about one finding on the client's day `on`."""

    verb = ""

    def __init__(self, *args: Any, flag: Flag, on: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.flag = flag
        self.on = on

    @property
    def is_about_pain(self) -> bool:
        return self.flag.kind == Kind.PAIN.value


class SeenForm(ActForm):
    verb = "Seen"


class PutAsideForm(ActForm):
    verb = "Put aside"
    until = forms.DateField(
        label="Until",
        widget=forms.DateInput(attrs={"type": "date"}),
        error_messages={"required": "Say until which day.", "invalid": "Say until which day, as 2026-04-16."},
    )

    def clean_until(self) -> date:
        until: date = self.cleaned_data["until"]
        if until <= self.on:
            raise forms.ValidationError("Put aside until a day to come.")
        if self.is_about_pain and until > self.on + LONGEST_ASIDE_FOR_PAIN:
            raise forms.ValidationError("Pain is put aside for a day at most.")
        if until > self.on + LONGEST_ASIDE:
            raise forms.ValidationError("Put aside for a year at most.")
        return until

    def clean_how(self) -> str:
        how: str = self.cleaned_data["how"]
        if self.is_about_pain and not how:
            raise forms.ValidationError("Pain is put aside only with the contact recorded: call, message or met.")
        return how


class CloseForm(ActForm):
    verb = "Close"

    def clean_text(self) -> str:
        text: str = self.cleaned_data["text"]
        if not text:
            raise forms.ValidationError(
                "Pain is closed only with a note." if self.is_about_pain else "Say why you close it."
            )
        return text
