"""What a coach changes on a pack, and how they say that it was given."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from django import forms
from django.http import QueryDict

from coaching.check_ins.content import Pack, Part
from coaching.check_ins.edits import REMARK_LENGTH, SENTENCE_LENGTH, EditRefused, Edits, edits_between
from coaching.check_ins.models import PackVersion
from coaching.desk.pack_asked import PackAsked

_SENTENCE = re.compile(r"sentence-(\d{1,3})")
NOT_GIVEN = "not"


@dataclass(frozen=True, slots=True)
class Field:
    """`other` is what stands there otherwise, where somebody else has changed it meanwhile."""

    name: str
    label: str
    value: str
    longest: int
    other: str | None = None


@dataclass(frozen=True)
class Typed:
    """What was sent, as it was typed."""

    sentences: dict[int, str]
    hidden: frozenset[Part]
    remarks: dict[Part, str]

    def edits_of(self, pack: Pack) -> Edits:
        """Refused with a sentence for the coach where something is too long, or no text."""
        if any("\0" in text for text in (*self.sentences.values(), *self.remarks.values())):
            raise EditRefused("There is a character in it that no text has.")
        return edits_between(pack, self.sentences, self.hidden, self.remarks)


def typed_in(form: QueryDict) -> Typed:
    words = {name: _plain(str(form[name])) for name in form}
    sentences = {int(match[1]): text for name, text in words.items() if (match := _SENTENCE.fullmatch(name))}
    remarks = {part: words.get(f"remark-{part.value}", "") for part in Part}
    return Typed(sentences, frozenset(part for part in Part if part.value in form.getlist("hidden")), remarks)


def _plain(text: str) -> str:
    """Browsers send two characters for the end of a line."""
    return text.replace("\r\n", "\n").replace("\r", "\n").strip()


def fields_of(asked: PackAsked, typed: Typed | None = None) -> dict[str, list[Field]]:
    """By part; what was typed stands in the fields, and beside it what stands there otherwise."""
    fields: dict[str, list[Field]] = {part.value: [] for part in Part}
    said = {place: asked.edits.sentences.get(place, one.text) for place, one in enumerate(asked.composed.sentences)}
    fields[Part.SENTENCES.value] += _sentence_fields(said, typed)
    for part in Part:
        kept = asked.edits.remarks.get(part, "")
        value = typed.remarks[part] if typed else kept
        other = kept if kept != value else None
        fields[part.value].append(Field(f"remark-{part.value}", "Your remark", value, REMARK_LENGTH, other))
    return fields


def _sentence_fields(said: dict[int, str], typed: Typed | None) -> Iterator[Field]:
    for place in sorted({*said, *(typed.sentences if typed else {})}):
        kept = said.get(place, "").strip()
        value = typed.sentences.get(place, kept) if typed else kept
        other = kept if kept != value else None
        yield Field(f"sentence-{place}", f"Sentence {place + 1}", value, SENTENCE_LENGTH, other)


class GivenForm(forms.Form):
    """How, to whom and on which day; or that it was not given after all."""

    how = forms.ChoiceField(choices=[*PackVersion.How.choices, (NOT_GIVEN, "not given after all")], label="How")
    to = forms.CharField(max_length=120, required=False, label="To somebody else")
    on = forms.DateField(required=False, label="On", widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}))

    def __init__(self, *args: Any, since: date, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **{"label_suffix": "", "auto_id": "given-%s", **kwargs})
        self.since, self.today = since, today

    def clean_on(self) -> date:
        on: date = self.cleaned_data["on"] or self.today
        if on > self.today:
            raise forms.ValidationError("That day has not come yet.")
        if on < self.since:
            raise forms.ValidationError("That was before the days that the pack is about.")
        return on
