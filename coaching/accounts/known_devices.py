"""Which browsers have signed somebody in before.

Tries with a wrong password are counted by address, so a stranger who guesses could keep the owner of an address out.
A browser that the owner has come in with carries a signed mark, which only signing in gives, and is counted apart.
"""

from __future__ import annotations

from django.conf import settings
from django.core.signing import BadSignature, TimestampSigner
from django.http import HttpRequest, HttpResponse
from django.utils.crypto import get_random_string

from coaching.cookies import bound_to_host

COOKIE = "device"


def find_device(request: HttpRequest, email: str) -> str | None:
    mark = request.COOKIES.get(bound_to_host(COOKIE), "")
    try:
        return _signer(email).unsign(mark, max_age=settings.DEVICE_IS_KNOWN_FOR)
    except BadSignature:
        return None


def remember_device(request: HttpRequest, response: HttpResponse, email: str) -> None:
    device = find_device(request, email) or get_random_string(22)
    response.set_cookie(
        bound_to_host(COOKIE),
        _signer(email).sign(device),
        max_age=settings.DEVICE_IS_KNOWN_FOR,
        secure=settings.SESSION_COOKIE_SECURE,
        httponly=True,
        samesite="Lax",
    )


def _signer(email: str) -> TimestampSigner:
    return TimestampSigner(salt=f"device of {email.lower()}")
