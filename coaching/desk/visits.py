"""When a coach last looked, kept in a cookie of theirs: what happened since is marked as new."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from django.conf import settings
from django.core.signing import BadSignature
from django.http import HttpRequest, HttpResponse

from coaching.cookies import bound_to_host

# Looks closer together than this are one visit.
SAME_VISIT = timedelta(hours=2)
KEPT_FOR = timedelta(days=60)


def last_visit(request: HttpRequest, now: datetime) -> datetime | None:
    """When the visit before this one ended; none for a first visit."""
    before, latest = _kept(request)
    return latest if latest and now - latest > SAME_VISIT else before


def keep_visit(request: HttpRequest, response: HttpResponse, now: datetime) -> None:
    before = last_visit(request, now) or now
    instants = f"{before.timestamp():.0f} {now.timestamp():.0f}"
    response.set_signed_cookie(
        _name(request), instants, max_age=KEPT_FOR, httponly=True, samesite="Lax", secure=settings.SESSION_COOKIE_SECURE
    )


def _name(request: HttpRequest) -> str:
    return bound_to_host(f"visit_{request.user.pk}")


def _kept(request: HttpRequest) -> tuple[datetime | None, datetime | None]:
    try:
        before, latest = request.get_signed_cookie(_name(request)).split()
    except (KeyError, BadSignature):
        return None, None
    return datetime.fromtimestamp(int(before), UTC), datetime.fromtimestamp(int(latest), UTC)
