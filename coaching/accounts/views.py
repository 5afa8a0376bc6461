from __future__ import annotations

from allauth.account.adapter import get_adapter
from allauth.account.decorators import reauthentication_required
from allauth.account.views import PasswordResetView, ReauthenticateView, logout
from allauth.mfa.base.views import ReauthenticateView as ReauthenticateByCodeView
from allauth.mfa.models import Authenticator
from allauth.mfa.totp.views import ActivateTOTPView
from allauth.mfa.webauthn.views import ReauthenticateWebAuthnView
from allauth.usersessions.models import UserSession
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.forms import Form
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from coaching.accounts.session_store import SessionStore
from coaching.accounts.totp_steps import use_step

NOT_SENT = "The mail could not be sent just now. Try again in a few minutes."
ENDED = "Ended. Whoever was signed in there has to sign in again."
SECONDS_TO_WAIT = 60


def too_many_tries(request: HttpRequest) -> HttpResponse:
    response = render(request, "429.html", status=429)
    response.headers["Retry-After"] = str(SECONDS_TO_WAIT)
    return response


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    response: HttpResponse = logout(request)
    response.headers["Clear-Site-Data"] = '"cache", "storage"'
    return response


class ForgottenPassword(PasswordResetView):
    def form_valid(self, form: Form) -> HttpResponse:
        try:
            return super().form_valid(form)
        except OSError:
            form.add_error(None, NOT_SENT)
            return self.render_to_response(self.get_context_data(form=form), status=503)


class Confirmed:
    """Whoever has shown once more who they are goes on under a new key, and the old one opens nothing."""

    request: HttpRequest

    def form_valid(self, form: Form) -> HttpResponse:
        session = self.request.session
        rows = UserSession.objects.filter(session_key=session.session_key)
        session.cycle_key()
        rows.update(session_key=session.session_key)
        response: HttpResponse = super().form_valid(form)  # type: ignore[misc]
        return response


class Confirm(Confirmed, ReauthenticateView):
    """By the password."""


class ConfirmByCode(Confirmed, ReauthenticateByCodeView):
    """By the app, or a recovery code."""


class ConfirmByPasskey(Confirmed, ReauthenticateWebAuthnView):
    """By a passkey."""


class AddApp(ActivateTOTPView):
    def form_valid(self, form: Form) -> HttpResponse:
        response = super().form_valid(form)
        # The code that proved the app is used up with that.
        app = Authenticator.objects.get(user=self.request.user, type=Authenticator.Type.TOTP)
        use_step(app, form.cleaned_data["code"])
        return response


@require_safe
@login_required
def sessions(request: HttpRequest) -> HttpResponse:
    rows = UserSession.objects.filter(user=request.user).order_by("-created_at", "-pk")
    stores = [(row, SessionStore(row.session_key)) for row in rows]
    return render(
        request,
        "account/sessions.html",
        {"sessions": [(row, store.used_at) for row, store in stores if store.get("_auth_user_id")]},
    )


@require_POST
@login_required
@reauthentication_required
def end_sessions(request: HttpRequest) -> HttpResponse:
    """The one that is named, or all but this one."""
    rows = UserSession.objects.filter(user=request.user)
    named = request.POST.get("session", "")
    rows = rows.filter(pk=named) if named.isdecimal() else rows.exclude(session_key=request.session.session_key)
    for row in rows:
        row.end()
    get_adapter().add_message(request, messages.SUCCESS, message=ENDED)
    return redirect("account_sessions")
