"""What published blocks ask of some clients, for looking up by names and by week."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection
from datetime import date, timedelta

from roster.blocks.models import PlannedExercise, PlannedSession
from roster.labels import fold

# Block, week and session as a log names them.
Names = tuple[str, int, str]


class PlanIndex:
    def __init__(self, client_ids: Collection[int]) -> None:
        self.sessions: dict[tuple[int, str, int, str], int] = {}
        self.weeks: dict[tuple[int, str], set[int]] = defaultdict(set)
        self.exercises_of_session: dict[int, set[int]] = defaultdict(set)
        self.exercises_of_week: dict[tuple[int, date], set[int]] = defaultdict(set)
        self._read(client_ids)

    def _read(self, client_ids: Collection[int]) -> None:
        published = PlannedSession.objects.filter(block__client__in=client_ids, block__published_at__isnull=False)
        weeks: dict[int, tuple[int, date]] = {}
        for pk, client_id, block, week, label, day in published.values_list(
            "pk", "block__client_id", "block__label_folded", "week", "label_folded", "suggested_on"
        ):
            self.weeks[client_id, block].add(week)
            weeks[pk] = client_id, monday_of(day)
            if label:
                self.sessions[client_id, block, week, label] = pk
        planned = PlannedExercise.objects.filter(session__in=published)
        for session_id, exercise_id in planned.values_list("session_id", "exercise_id"):
            self.exercises_of_session[session_id].add(exercise_id)
            self.exercises_of_week[weeks[session_id]].add(exercise_id)

    def find(self, client_id: int, names: Names) -> int | None:
        """The planned session that goes by these names."""
        block, week, session = names
        return self.sessions.get((client_id, fold(block), week, fold(session)))

    def why_not_found(self, client_id: int, names: Names) -> tuple[str, object, str]:
        """The column that is wrong, what it says, and the reason."""
        block, week, session = names
        weeks = self.weeks.get((client_id, fold(block)))
        if not weeks:
            return "block", block, "is no published block of this client"
        if week not in weeks:
            return "week", week, f"has no sessions in block “{block}”"
        return "session", session, f"is no session of week {week} of block “{block}”"

    def asked(self, client_id: int, day: date, planned_session_id: int | None) -> set[int]:
        """The exercises of the planned session, or else of everything in the ISO week of `day`."""
        if planned_session_id is not None:
            return self.exercises_of_session[planned_session_id]
        return self.exercises_of_week.get((client_id, monday_of(day)), set())


def monday_of(day: date) -> date:
    return day - timedelta(days=day.weekday())
