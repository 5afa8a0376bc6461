from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.contrib.auth.forms import AuthenticationForm
from django.contrib.auth.views import LoginView, LogoutView
from django.http import HttpRequest


class SignInForm(AuthenticationForm):
    error_messages: ClassVar = {
        "invalid_login": "That address and password do not belong together. Check both and try again.",
        "inactive": "This account is closed. Ask the owner of your studio.",
    }

    def __init__(self, request: HttpRequest | None = None, *args: Any, **kwargs: Any) -> None:
        super().__init__(request, *args, **{"label_suffix": "", **kwargs})
        self.fields["username"].label = "E-mail address"
        self.fields["username"].widget = forms.EmailInput(attrs={"autocomplete": "username", "autofocus": True})


class SignIn(LoginView):
    authentication_form = SignInForm
    redirect_authenticated_user = True
    template_name = "desk/sign_in.html"


class SignOut(LogoutView):
    http_method_names: ClassVar = ["post"]
