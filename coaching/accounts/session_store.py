"""Sessions that end: some hours after their last page, and after some days in any case.

Both ends stand in the row's own expiry, so that a session that is over cannot be read at all, whatever the browser
still sends. Use is written down every few minutes, not with every page.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from typing import Any

from django.conf import settings
from django.contrib.auth import SESSION_KEY
from django.contrib.sessions.backends.base import UpdateError
from django.contrib.sessions.backends.db import SessionStore as DatabaseSessionStore
from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse
from django.utils import timezone

BEGAN_AT = "began_at"
USED_AT = "used_at"
USE_IS_NOTED_EVERY = timedelta(minutes=5)


class SessionStore(DatabaseSessionStore):
    def __setitem__(self, key: str, value: Any) -> None:
        super().__setitem__(key, value)
        # A session begins when somebody is written into it.
        if key == SESSION_KEY:
            super().__setitem__(BEGAN_AT, timezone.now().timestamp())
            self.note_use()

    @property
    def used_at(self) -> datetime:
        return datetime.fromtimestamp(self.get(USED_AT, timezone.now().timestamp()), UTC)

    @property
    def began_at(self) -> datetime:
        return datetime.fromtimestamp(self.get(BEGAN_AT, timezone.now().timestamp()), UTC)

    def note_use(self) -> None:
        super().__setitem__(USED_AT, timezone.now().timestamp())

    def get_expiry_date(self, **kwargs: Any) -> datetime:
        return min(self.used_at + settings.SESSION_ENDS_UNUSED_AFTER, self.began_at + settings.SESSION_ENDS_AFTER)

    def get_expiry_age(self, **kwargs: Any) -> int:
        return int((self.get_expiry_date() - timezone.now()).total_seconds())


def note_use_of_session(get_response: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    def middleware(request: HttpRequest) -> HttpResponse:
        session = request.session
        if session.session_key and SESSION_KEY in session and timezone.now() - session.used_at >= USE_IS_NOTED_EVERY:
            session.note_use()
            # Whoever only reads goes on reading when nothing can be written.
            with suppress(DatabaseError, UpdateError):
                session.save()
            session.modified = False
        return get_response(request)

    return middleware
