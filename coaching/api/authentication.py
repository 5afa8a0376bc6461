"""Who a program speaks for: a token in the Authorization header, or the session of the desk with its CSRF token."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from django.utils import timezone
from knox.auth import TokenAuthentication
from knox.crypto import hash_token
from rest_framework.authentication import SessionAuthentication
from rest_framework.exceptions import AuthenticationFailed
from rest_framework.permissions import SAFE_METHODS, BasePermission
from rest_framework.request import Request

from coaching.api.models import AccessToken, Scope
from roster.people.models import Coach

if TYPE_CHECKING:
    # The framework's views themselves ask for what is defined here.
    from rest_framework.views import APIView

USE_IS_NOTED_EVERY = timedelta(minutes=5)
REFUSED = "This token opens nothing: it is unknown, at its end or taken away, or the password is another one since."


class ByToken(TokenAuthentication):
    def authenticate_credentials(self, token: bytes) -> tuple[Coach, AccessToken]:
        now = timezone.now()
        digest = hash_token(token.decode("ascii", errors="replace"))
        found = AccessToken.objects.alive(now).select_related("user").filter(digest=digest).first()
        if found is None or not found.user.is_active or not found.belongs_to_present_sign_in(found.user):
            raise AuthenticationFailed(REFUSED)
        if found.last_used_at is None or now - found.last_used_at >= USE_IS_NOTED_EVERY:
            AccessToken.objects.filter(pk=found.pk).update(last_used_at=now)
        return found.user, found


class BySession(SessionAuthentication):
    pass


class IsSignedIn(BasePermission):
    def has_permission(self, request: Request, view: APIView) -> bool:
        return bool(request.user and request.user.is_authenticated)


class HasTheScope(BasePermission):
    """A session may do whatever its person may; a token what it was made for."""

    def has_permission(self, request: Request, view: APIView) -> bool:
        wanted = Scope.READ if request.method in SAFE_METHODS else Scope.ACT
        self.message = f"This token was not made for this: it needs the scope “{wanted.value}”."
        return request.auth is None or wanted.value in request.auth.scopes
