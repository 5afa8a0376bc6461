"""The day that a page shows: today, or an earlier one asked for with `?as_of=`."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from urllib.parse import urlencode

from django.contrib import messages
from django.http import HttpRequest
from django.utils import timezone

from coaching.monitoring.days_asked import DayRefused, day_asked
from roster.people.zones import local_date


@dataclass(frozen=True)
class When:
    """The day shown, the coach's own today, and the rest of the address that a change of day keeps."""

    day: date
    today: date
    kept: tuple[tuple[str, str], ...] = ()

    @property
    def is_past(self) -> bool:
        return self.day < self.today

    @property
    def asked(self) -> date | None:
        """What the facts are asked for: none on the live page, where each client stands at their own today."""
        return self.day if self.is_past else None

    @property
    def query(self) -> str:
        """Carries an earlier day over to the next page."""
        return "?" + urlencode({"as_of": self.day.isoformat()}) if self.is_past else ""


def read_when(request: HttpRequest) -> When:
    """The day asked for; a day that is none, or has not come yet, is told and today shown."""
    today = local_date(timezone.now(), request.user.time_zone)
    kept = tuple((name, value) for name, value in request.GET.items() if name not in ("as_of", "page"))
    return When(day=_day_asked(request, today), today=today, kept=kept)


def _day_asked(request: HttpRequest, today: date) -> date:
    text = request.GET.get("as_of", "").strip()
    if not text:
        return today
    try:
        return day_asked(text, today)
    except DayRefused as refused:
        messages.warning(request, f"{refused} This is today.")
        return today
