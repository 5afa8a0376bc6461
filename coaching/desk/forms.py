"""What a coach does about a finding, and says to or about a client."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms

from coaching.monitoring.acts import TEXT_LENGTH
from roster.people.models import Contact


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
    """Something done about a finding, on the client's day `on`; what pain asks for is checked where it is done."""

    verb = ""
    done = ""

    def __init__(self, *args: Any, on: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.on = on


class SeenForm(ActForm):
    verb = done = "Seen"


class PutAsideForm(ActForm):
    verb = done = "Put aside"

    until = forms.DateField(
        label="Until",
        widget=forms.DateInput(attrs={"type": "date"}),
        error_messages={"required": "Say until which day.", "invalid": "Say until which day, such as 2026-04-16."},
    )


class CloseForm(ActForm):
    verb, done = "Close", "Closed"

    def clean_text(self) -> str:
        text: str = self.cleaned_data["text"]
        if not text:
            raise forms.ValidationError("Say why it is closed.")
        return text
