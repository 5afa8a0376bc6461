"""Tokens made, taken away and forgotten."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from django.db.models import Q

from coaching.api.models import AccessToken, Scope
from roster.people.models import Coach

DAYS_OFFERED = (30, 90, 365)
MOST_TOKENS = 20


def make_token(*, coach: Coach, name: str, scopes: Iterable[str], days: int) -> tuple[AccessToken, str]:
    """The token's row, and the token itself, which is not kept anywhere."""
    return AccessToken.objects.create(
        user=coach,
        expiry=timedelta(days=days),
        name=name,
        scopes=[scope for scope in Scope.values if scope in set(scopes)],
        sign_in_mark=coach.get_session_auth_hash(),
    )


def tokens_of(coach: Coach, now: datetime) -> list[AccessToken]:
    """Those that still open something, newest first."""
    alive = AccessToken.objects.alive(now).filter(user=coach)
    return [token for token in alive if token.belongs_to_present_sign_in(coach)]


def forget_ended_tokens(now: datetime) -> int:
    """Deletes what opens nothing any more: past their end, of somebody let go, or older than the password."""
    over = AccessToken.objects.filter(Q(expiry__lte=now) | Q(user__is_active=False))
    ended = list(over.values_list("pk", flat=True))
    ended += [
        token.pk
        for token in AccessToken.objects.exclude(pk__in=ended).select_related("user")
        if not token.belongs_to_present_sign_in(token.user)
    ]
    AccessToken.objects.filter(pk__in=ended).delete()
    return len(ended)
