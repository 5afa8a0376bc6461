"""IANA time zones, and the local day in one of them."""

from datetime import date, datetime
from functools import cache
from zoneinfo import ZoneInfo, available_timezones

from django.core.exceptions import ValidationError


@cache
def known_time_zones() -> frozenset[str]:
    return frozenset(available_timezones())


def validate_time_zone(name: str) -> None:
    if name not in known_time_zones():
        raise ValidationError(f"“{name}” is no IANA time zone, such as Europe/Lisbon.")


def local_date(instant: datetime, time_zone: str) -> date:
    """The calendar day that `instant` (aware) falls on in `time_zone`."""
    return instant.astimezone(_zone(time_zone)).date()


@cache
def _zone(name: str) -> ZoneInfo:
    """A roster has more zones than the standard library keeps at hand."""
    return ZoneInfo(name)
