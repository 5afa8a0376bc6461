"""Rows of a file of logs put together into session logs, and checked as such, nothing saved.

Rows of equal client, day, block, week, session and submission are one session log. What belongs to the session stands
in its first row; a session of one row without an exercise says “trained” and nothing more.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from uuid import UUID

from roster.blocks.plan_index import Names, PlanIndex
from roster.labels import fold
from roster.logs.entries import SessionEntry, SetEntry, made_uuid
from roster.logs.log_rows import ABOUT_A_SET, ABOUT_THE_SESSION, LogRow
from roster.tables.faults import Faults
from roster.tables.table import Table


class LogGroups:
    """Makes session entries of the sound rows of a table."""

    def __init__(self, table: Table, plan: PlanIndex, faults: Faults) -> None:
        self.table = table
        self.plan = plan
        self.faults = faults
        self.first_rows: dict[tuple[int, UUID], int] = {}

    def entries(self, rows: Iterable[LogRow]) -> list[tuple[LogRow, SessionEntry]]:
        """Each session with its first row, in the order of the file."""
        groups: dict[object, list[LogRow]] = {}
        for row in rows:
            groups.setdefault(row.group, []).append(row)
        return [(group[0], self._entry(group)) for group in groups.values()]

    def _entry(self, group: list[LogRow]) -> SessionEntry:
        first = group[0]
        names = self._names(first)
        entry = SessionEntry(
            client=first.client,
            uuid=first.submission or made_uuid(first.client.key, first.performed_on, names),
            performed_on=first.performed_on,
            names=names,
            planned_session_id=self._planned_session(first, names),
            minutes=first.minutes,
            effort=first.effort,
            pain=first.pain,
            pain_region=first.pain_region,
            note=first.note,
            sets=list(self._sets(group)) if len(group) > 1 or first.exercise else None,
            payload={"rows": [self.table.filled_cells(row.source) for row in group]},
        )
        self._check_submission(first, entry)
        self._check_session_cells(group)
        if entry.sets is None:
            self._check_told(first)
        return entry

    def _names(self, first: LogRow) -> Names | None:
        given = {"block": first.block, "week": first.week, "session": first.session}
        missing = [column for column, value in given.items() if value in ("", None)]
        if len(missing) == 3:
            return None
        if missing:
            self._fault(first, missing[0], "", "is empty, while others of block, week and session are given")
            return None
        assert first.week is not None
        return first.block, first.week, first.session

    def _planned_session(self, first: LogRow, names: Names | None) -> int | None:
        if names is None:
            return None
        found = self.plan.find(first.client.pk, names)
        if found is None:
            self._fault(first, *self.plan.why_not_found(first.client.pk, names))
        return found

    def _check_submission(self, first: LogRow, entry: SessionEntry) -> None:
        first_row = self.first_rows.setdefault((entry.client.pk, entry.uuid), first.number)
        if first_row != first.number:
            self._fault(first, "submission", entry.uuid, f"belongs to another session in row {first_row}")

    def _check_session_cells(self, group: list[LogRow]) -> None:
        """A later row that tells of the session again may be a second session that needs a label or a submission."""
        for row in group[1:]:
            if row.minutes is row.effort is row.pain is None and not row.pain_region and not row.note:
                continue
            filled = self.table.filled_cells(row.source)
            for column in ABOUT_THE_SESSION:
                if column in filled:
                    reason = f"is told of a session that began in row {group[0].number}: only its first row tells it"
                    self._fault(row, column, filled[column], reason)

    def _check_told(self, row: LogRow) -> None:
        filled = self.table.filled_cells(row.source)
        for column in ABOUT_A_SET:
            if column in filled:
                self._fault(row, column, filled[column], "is told of no exercise")

    def _sets(self, group: list[LogRow]) -> Iterator[SetEntry]:
        """The sets as filed; one without a number has its place among the rows of its exercise."""
        rows_of: dict[str, dict[int, int]] = {}
        counts: dict[str, int] = {}
        for row in group:
            exercise = fold(row.exercise)
            if not exercise:
                self._fault(row, "exercise", "", "is empty in a session of several rows")
                continue
            counts[exercise] = counts.get(exercise, 0) + 1
            number = row.set_number or counts[exercise]
            earlier = rows_of.setdefault(exercise, {}).setdefault(number, row.number)
            if earlier != row.number:
                self._fault(row, "set", number, f"of “{row.exercise}” is in row {earlier} already")
            if row.reps is None:
                self._fault(row, "reps", "", "is empty")
                continue
            yield SetEntry(
                row.exercise, number, row.reps.counts[0], row.reps.measure, row.load, row.rest_s, row.is_warm_up
            )

    def _fault(self, row: LogRow, column: str, value: object, reason: str) -> None:
        self.faults.add(row.number, column, value, reason)
