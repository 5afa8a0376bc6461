from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.safestring import SafeString

from coaching.desk.kept import KeptByFacts
from coaching.desk.marks import quiet_strip
from coaching.monitoring.models import Status
from coaching.monitoring.reading import RosterFacts, SessionMark


@dataclass(frozen=True, slots=True)
class LastWeeks:
    """What a morning tells of a client's last weeks."""

    strip: SafeString = SafeString("")
    # Of the sessions of the last full week.
    missed: int = 0
    asked: int = 0


class KeptMarks(KeptByFacts[LastWeeks]):
    # Some five megabytes.
    most_kept = 5_000

    def complete(self, facts: RosterFacts) -> dict[int, LastWeeks]:
        """The weeks of everybody; what was not at hand is written and kept."""
        for client_id, state in facts.states.items():
            if client_id not in self.at_hand:
                weeks = _last_weeks(facts.marks.get(client_id, ()), self.this_week - timedelta(weeks=1))
                self.at_hand[client_id] = weeks
                self.keep(state, weeks)
        return self.at_hand


def _last_weeks(marks: Sequence[SessionMark], last_week: date) -> LastWeeks:
    statuses = [mark.status for mark in marks if mark.week_start == last_week]
    asked = len(statuses) - statuses.count(Status.NOT_DUE.value)
    return LastWeeks(quiet_strip(marks), statuses.count(Status.MISSED.value), asked)
