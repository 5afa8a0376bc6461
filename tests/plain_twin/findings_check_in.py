"""A check-in call that is owed: check_in_due."""

from __future__ import annotations

from datetime import date, timedelta

from tests.plain_twin.client_day import ClientDay
from tests.plain_twin.finding import Finding
from tests.plain_twin.record import CheckIns, Client

EVERY_DAYS, AHEAD_DAYS, LATE_DAYS = 28, 3, 7
HALF = timedelta(days=EVERY_DAYS // 2)


def find_check_in_due(at: ClientDay) -> list[Finding]:
    """Not paused, and the call has not been held by D, which is three days before it is due or later."""
    due_on = due_day(at.client, at.day)
    if due_on is None or at.client.is_paused_on(at.day) or at.day < due_on - timedelta(days=AHEAD_DAYS):
        return []
    return [Finding("check_in_due", "", "act" if at.day >= due_on + timedelta(days=LATE_DAYS) else "watch")]


def due_day(client: Client, day: date) -> date | None:
    """When the call is due that had not been held by a day; a pause moves it to the first day after."""
    if client.check_ins is None:
        return None
    later = sorted((held_on, due_on) for due_on, held_on in client.check_ins.held if held_on > day)
    due_on = later[0][1] if later else _day_to_come(client, client.check_ins)
    due_on = max(due_on, client.check_ins.begin_on)
    while client.is_paused_on(due_on):
        due_on += timedelta(days=1)
    return due_on


def _day_to_come(client: Client, calls: CheckIns) -> date:
    """The day that was set, or every four weeks from joining, at least two after the last call."""
    if calls.set_on is not None:
        return calls.set_on
    last_held = max((held_on for _, held_on in calls.held), default=date.min)
    due_on = client.joined_on + timedelta(days=EVERY_DAYS)
    while due_on < calls.begin_on or due_on < last_held + HALF:
        due_on += timedelta(days=EVERY_DAYS)
    return due_on
