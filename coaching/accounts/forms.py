from __future__ import annotations

import logging
from typing import Any, ClassVar

from allauth.account import forms as account_forms
from allauth.account.adapter import get_adapter
from allauth.mfa.adapter import get_adapter as get_mfa_adapter
from allauth.mfa.base import forms as mfa_forms
from allauth.mfa.models import Authenticator
from allauth.mfa.totp import forms as totp_forms
from allauth.mfa.webauthn import forms as webauthn_forms
from django import forms
from django.http import HttpRequest

from coaching.accounts.totp_steps import use_step
from roster.people.models import Coach

logger = logging.getLogger(__name__)
_make_token = account_forms.default_token_generator.make_token
HOW_LONG = "12 characters at least, better 15 or more: four or five words that nobody would put together."


class InOurWords(forms.Form):
    labels: ClassVar[dict[str, str]] = {}
    helps: ClassVar[dict[str, str]] = {}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **{"label_suffix": "", **kwargs})
        for name, field in self.fields.items():
            field.widget.attrs.pop("placeholder", None)
            field.label = self.labels.get(name, field.label)
            field.help_text = self.helps.get(name, "")
        next(iter(self.fields.values())).widget.attrs["autofocus"] = True


class SignInForm(InOurWords, account_forms.LoginForm):
    labels: ClassVar = {"login": "E-mail address", "password": "Password"}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["login"].widget.attrs["autocomplete"] = "username"


class ForgottenPasswordForm(InOurWords, account_forms.ResetPasswordForm):
    labels: ClassVar = {"email": "E-mail address"}

    def save(self, request: HttpRequest, **kwargs: Any) -> str:
        """A mail goes out either way, so that neither the page nor its time tells who is known here."""
        if self.users:
            return str(super().save(request, **kwargs))
        email = str(self.cleaned_data["email"])
        # A link that leads nowhere and is not sent, made because making one takes time.
        link = get_adapter().get_reset_password_from_key_url(f"0-{_make_token(Coach(pk=0, email=email))}")
        get_adapter().send_mail("account/email/unknown_account", email, {"password_reset_url": link})
        return email


class NewPasswordForm(InOurWords, account_forms.ResetPasswordKeyForm):
    labels: ClassVar = {"password1": "New password", "password2": "Once more"}
    helps: ClassVar = {"password1": HOW_LONG}


class ChangePasswordForm(InOurWords, account_forms.ChangePasswordForm):
    labels: ClassVar = {"oldpassword": "Present password", "password1": "New password", "password2": "Once more"}
    helps: ClassVar = {"password1": HOW_LONG}


class ConfirmForm(InOurWords, account_forms.ReauthenticateForm):
    labels: ClassVar = {"password": "Password"}


class TakenOnce(mfa_forms.BaseAuthenticateForm):
    def clean_code(self) -> str:
        try:
            code = str(super().clean_code())
        except forms.ValidationError:
            logger.info("a second factor of coach %s was refused", self.user.pk)
            raise
        if self.authenticator.type == Authenticator.Type.TOTP and not use_step(self.authenticator, code):
            logger.warning("a code of coach %s was sent again", self.user.pk)
            raise get_mfa_adapter().validation_error("incorrect_code")
        return code


class SecondFactorForm(InOurWords, TakenOnce, mfa_forms.AuthenticateForm):
    labels: ClassVar = {"code": "Code"}


class ConfirmByCodeForm(InOurWords, TakenOnce, mfa_forms.ReauthenticateForm):
    labels: ClassVar = {"code": "Code"}


class AddAppForm(InOurWords, totp_forms.ActivateTOTPForm):
    labels: ClassVar = {"code": "The code that the app shows now"}


class AddPasskeyForm(InOurWords, webauthn_forms.AddWebAuthnForm):
    labels: ClassVar = {"name": "What to call it", "passwordless": "Sign in with it alone, without the password"}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs["initial"] = {"name": "This device", "passwordless": True}
        super().__init__(*args, **kwargs)
