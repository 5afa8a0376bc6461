"""Where allauth asks what is ours to decide.

What is written down of signing in names coaches by their number: no address, and nothing that a visitor typed.
"""

from __future__ import annotations

import logging
from typing import Any, ClassVar

from allauth.account.adapter import DefaultAccountAdapter
from allauth.core import context
from allauth.mfa.adapter import DefaultMFAAdapter
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme

from coaching.accounts.known_devices import find_device, remember_device
from roster.people.models import Coach

logger = logging.getLogger(__name__)


class AccountAdapter(DefaultAccountAdapter):
    error_messages: ClassVar = DefaultAccountAdapter.error_messages | {
        "email_password_mismatch": "That address and password do not belong together. Check both and try again.",
        "too_many_login_attempts": "Too many tries. Wait a quarter of an hour, then try again.",
        "rate_limited": "Too many tries. Wait a quarter of an hour, then try again.",
        "incorrect_password": "That is not your password.",
        "enter_current_password": "That is not your present password.",
    }

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        return False

    def is_ajax(self, request: HttpRequest) -> bool:
        """One address answers a script, with what a passkey has to sign; all others answer with pages."""
        return request.resolver_match is not None and request.resolver_match.url_name == "mfa_login_webauthn"

    def is_safe_url(self, url: str | None) -> bool:
        """This host alone, whatever others the installation answers to."""
        request = context.request
        return url_has_allowed_host_and_scheme(url, {request.get_host()}, require_https=request.is_secure())

    def get_password_change_redirect_url(self, request: HttpRequest) -> str:
        return reverse("mfa_index")

    def format_email_subject(self, subject: str) -> str:
        return f"Muster: {subject}"

    def post_login(self, request: HttpRequest, user: Coach, **kwargs: Any) -> HttpResponse:
        response: HttpResponse = super().post_login(request, user, **kwargs)
        remember_device(request, response, user.email)
        logger.info("coach %s signed in", user.pk)
        return response

    def send_notification_mail(self, template_prefix: str, user: Coach, *args: Any, **kwargs: Any) -> None:
        """What was done is done: a notice that can't be sent is written down, and nothing else fails for it."""
        logger.info("coach %s was told: %s", user.pk, template_prefix)
        try:
            super().send_notification_mail(template_prefix, user, *args, **kwargs)
        except OSError:
            logger.exception("the notice %s to coach %s was not sent", template_prefix, user.pk)

    def pre_authenticate(self, request: HttpRequest, **credentials: Any) -> None:
        try:
            super().pre_authenticate(request, **credentials)
        except ValidationError:
            logger.warning("too many tries to sign in")
            raise

    def authentication_failed(self, request: HttpRequest, **credentials: Any) -> None:
        logger.info("a try to sign in failed")

    def logout(self, request: HttpRequest) -> None:
        logger.info("coach %s signed out", request.user.pk)
        super().logout(request)

    def _get_login_attempts_cache_key(self, request: HttpRequest, **credentials: Any) -> str:
        email = credentials.get("email", "").lower()
        device = find_device(request, email)
        return f"{email} on {device}" if device else email


class SecondFactorAdapter(DefaultMFAAdapter):
    error_messages: ClassVar = DefaultMFAAdapter.error_messages | {
        "incorrect_code": "That code does not hold, or has been used. Wait for the next one and try again.",
        "cannot_generate_recovery_codes": "There are recovery codes only beside an app or a passkey. Add one first.",
    }
