from __future__ import annotations

from typing import Any

from django import forms

from coaching.api.models import Scope
from coaching.api.tokens import DAYS_OFFERED


class TokenForm(forms.Form):
    name = forms.CharField(max_length=80, label="What is the program called?")
    scopes = forms.MultipleChoiceField(
        choices=Scope.choices, label="What may it do?", widget=forms.CheckboxSelectMultiple,
        initial=[Scope.READ.value], error_messages={"required": "Say what it may do."},
    )
    days = forms.TypedChoiceField(
        choices=[(days, f"{days} days") for days in DAYS_OFFERED], coerce=int, initial=90, label="For how long?"
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **{"label_suffix": "", **kwargs})
