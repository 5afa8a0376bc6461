"""All findings about some clients as at any day, and since when each has held.

A finding is of one client, one kind and one subject. For kinds about an exercise the exercise is part of what it is;
pain and turnout are one finding a client, whatever region or condition holds now. `opened_day` is the first day from
which the condition has held on every day up to the as-of day: the same rules, asked of earlier and earlier days.
"""

from __future__ import annotations

from collections.abc import Collection

import numpy as np

from analytics.check_in_days import CheckInDays
from analytics.exercise_states import Exercises
from analytics.findings_schema import EXERCISE_KINDS, NO_SUBJECT, Cases, Found, Kind, all_found, is_one_of
from analytics.history import History
from analytics.rule_check_in import find_check_in_due
from analytics.rule_exercise import ExerciseRules
from analytics.rule_pain import PainReports, find_pain
from analytics.rule_plan import LinkedSessions, find_cut_short, find_plan_runs_out
from analytics.rule_turnout import DueSessions, LogDays, find_turnout
from analytics.sorted_keys import Bools, Ints, dense_codes, order_by
from analytics.table import Table

# How many days to look back at first; doubled until every finding's beginning is found.
FIRST_LOOK_BACK_DAYS = 8
MOST_LOOK_BACK_DAYS = 64
# For so few, asking costs more than days do: they are looked back on as far as can be at once.
FEW_CLIENTS = 3


class Rules:
    """Every rule over one history. Built once, asked of any clients and days."""

    def __init__(self, history: History) -> None:
        self.history = history
        self.pain_reports = PainReports(history.record, history.thresholds)
        self.exercise_rules = ExerciseRules(history)
        self.linked_sessions = LinkedSessions(history)
        self.log_days = LogDays(history)
        self.check_ins = CheckInDays(history.record, history.thresholds, history.pauses)

    @property
    def exercises(self) -> Exercises:
        return self.exercise_rules.exercises

    def find(self, cases: Cases, kinds: Collection[int] = tuple(Kind)) -> Table:
        """The findings of all cases, of all kinds or of some; see `findings_schema.found` for the columns."""
        return Table(self.find_columns(cases, kinds))

    def find_columns(self, cases: Cases, kinds: Collection[int] = tuple(Kind)) -> Found:
        """The same by column, for those who ask again and again."""
        parts: list[Found] = []
        attends_enough = np.zeros(len(cases), dtype=np.bool_)
        if not {Kind.TURNOUT, Kind.NO_STEP}.isdisjoint(kinds):
            due = DueSessions(self.history, cases)
            attends_enough = self._attends_enough(cases, due)
            parts.append(find_turnout(self.history, cases, due, self.log_days))
        if not set(EXERCISE_KINDS).isdisjoint(kinds):
            parts += self.exercise_rules.find(cases, self.pain_reports, attends_enough)
        if Kind.PAIN in kinds:
            parts.append(find_pain(self.pain_reports, cases))
        if Kind.CUT_SHORT in kinds:
            parts.append(find_cut_short(self.history, cases, self.linked_sessions))
        if Kind.PLAN_RUNS_OUT in kinds:
            parts.append(find_plan_runs_out(self.history, cases))
        if Kind.CHECK_IN_DUE in kinds:
            parts.append(find_check_in_due(self.history, cases, self.check_ins))
        found = all_found(parts)
        is_wanted = is_one_of(found["kind"], kinds)
        return {name: column[is_wanted] for name, column in found.items()}

    def _attends_enough(self, cases: Cases, due: DueSessions) -> Bools:
        thresholds = self.history.thresholds
        turnout = due.turnout_between(cases.day - thresholds.no_step_window_days, cases.day)
        return turnout >= thresholds.no_step_turnout


def find_findings(history: History, rules: Rules | None = None) -> Table:
    """Findings as at each client's as_of_day, ordered by client, kind and subject, with opened_day.

    Three squats short in a row, the second on 3 March and the third on the 10th, as at the 12th:
    one row, kind STALL, urgency ACT, opened_day 3 March.
    """
    rules = rules or Rules(history)
    as_of = history.record.clients["as_of_day"]
    today = Cases(np.arange(as_of.size, dtype=np.int64), as_of)
    findings = rules.find_columns(today)
    order = order_by(findings["client_row"], findings["kind"], findings["subject"])
    findings = {name: column[order] for name, column in findings.items() if name != "case"}
    return Table(findings | {"opened_day": opened_days(rules, findings)})


def opened_days(rules: Rules, findings: Found) -> Ints:
    """Since when each finding has held on every day up to its own; a client's findings are all of one day."""
    opened = findings["day"].copy()
    pending = np.arange(opened.size, dtype=np.int64)
    is_few = np.unique(findings["client_row"]).size <= FEW_CLIENTS
    width = MOST_LOOK_BACK_DAYS if is_few else FIRST_LOOK_BACK_DAYS
    while pending.size:
        clients = np.unique(findings["client_row"][pending])
        of_pending = {name: column[pending] for name, column in findings.items()}
        held_days = _days_held(rules, of_pending, opened[pending], clients, width)
        opened[pending] -= held_days
        pending = pending[held_days == width]
        width = min(2 * width, MOST_LOOK_BACK_DAYS)
    return opened


def _days_held(rules: Rules, findings: Found, before: Ints, clients: Ints, width: int) -> Ints:
    """For how many of the `width` days before each day in `before` each finding held without a break.

    All findings still looked at were pushed back by the same number of days, so a client has one day for all of them.
    """
    finding_client = findings["client_row"]
    first = np.zeros(clients.size, dtype=np.int64)
    first[np.searchsorted(clients, finding_client)] = before
    back = np.arange(1, width + 1, dtype=np.int64)
    cases = Cases(np.repeat(clients, width), (first[:, None] - back[None, :]).ravel())
    earlier = rules.find_columns(cases, set(findings["kind"].tolist()))
    codes, count = dense_codes(
        np.concatenate([finding_client, earlier["client_row"]]),
        np.concatenate([findings["kind"], earlier["kind"]]),
        np.concatenate([episode_subject(findings), episode_subject(earlier)]),
    )
    held = np.zeros((count, width), dtype=np.bool_)
    held[codes[finding_client.size :], earlier["case"] % width] = True
    unbroken = np.cumprod(held, axis=1).sum(axis=1)
    return unbroken[codes[: finding_client.size]]


def episode_subject(findings: Found) -> Ints:
    """What tells two findings of one kind about one client apart: the exercise, or nothing."""
    return np.where(is_one_of(findings["kind"], EXERCISE_KINDS), findings["subject"], NO_SUBJECT)
