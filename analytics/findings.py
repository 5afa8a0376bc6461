"""All findings about some clients as at any day, and since when each has held.

A finding is of one client, one kind and one subject. For kinds about an exercise the exercise is part of what it is;
pain and turnout are one finding a client, whatever region or condition holds now. `opened_day` is the first day from
which the condition has held on every day up to the as-of day: the same rules, asked of earlier and earlier days.
"""

from __future__ import annotations

from collections.abc import Collection

import numpy as np
import pandas as pd

from analytics.exercise_states import Exercises
from analytics.findings_schema import EXERCISE_KINDS, NO_SUBJECT, Cases, Found, Kind, all_found, is_of_exercise
from analytics.history import History
from analytics.rule_exercise import ExerciseRules
from analytics.rule_pain import PainReports, find_pain
from analytics.rule_plan import LinkedSessions, find_cut_short, find_plan_runs_out
from analytics.rule_turnout import DueSessions, LogDays, find_turnout
from analytics.sorted_keys import Bools, Ints, dense_codes

# How many days to look back at first; doubled until every finding's beginning is found.
FIRST_LOOK_BACK_DAYS = 8
MOST_LOOK_BACK_DAYS = 64


class Rules:
    """Every rule over one history. Built once, asked of any clients and days."""

    def __init__(self, history: History) -> None:
        self.history = history
        self.pain_reports = PainReports(history.record, history.thresholds)
        self.exercise_rules = ExerciseRules(history)
        self.linked_sessions = LinkedSessions(history)
        self.log_days = LogDays(history)

    @property
    def exercises(self) -> Exercises:
        return self.exercise_rules.exercises

    def find(self, cases: Cases, kinds: Collection[int] = tuple(Kind)) -> pd.DataFrame:
        """The findings of all cases, of all kinds or of some; see `findings_schema.found` for the columns."""
        parts: list[Found] = []
        attends_enough = np.zeros(len(cases), dtype=np.bool_)
        if not {Kind.TURNOUT, Kind.NO_STEP}.isdisjoint(kinds):
            due = DueSessions(self.history, cases)
            attends_enough = self._attends_enough(cases, due)
            parts.append(find_turnout(self.history, cases, due, self.log_days))
        if not set(EXERCISE_KINDS).isdisjoint(kinds):
            parts += self.exercise_rules.find(cases, self.pain_reports, attends_enough)
        parts.append(find_pain(self.pain_reports, cases))
        parts.append(find_cut_short(self.history, cases, self.linked_sessions))
        parts.append(find_plan_runs_out(self.history, cases))
        found = all_found(parts)
        return found[np.isin(found["kind"].to_numpy(), list(kinds))]

    def _attends_enough(self, cases: Cases, due: DueSessions) -> Bools:
        thresholds = self.history.thresholds
        turnout = due.turnout_between(cases.day - thresholds.no_step_window_days, cases.day)
        return turnout >= thresholds.no_step_turnout


def find_findings(history: History, rules: Rules | None = None) -> pd.DataFrame:
    """Findings as at each client's as_of_day, ordered by client, kind and subject, with opened_day.

    Three squats short in a row, the second on 3 March and the third on the 10th, as at the 12th:
    one row, kind STALL, urgency ACT, opened_day 3 March.
    """
    rules = rules or Rules(history)
    as_of = history.record.clients["as_of_day"].to_numpy()
    today = Cases(np.arange(as_of.size, dtype=np.int64), as_of)
    findings = rules.find(today).drop(columns="case")
    findings["opened_day"] = _opened_days(rules, findings)
    return findings.sort_values(["client_row", "kind", "subject"], kind="stable", ignore_index=True)


def _opened_days(rules: Rules, findings: pd.DataFrame) -> Ints:
    opened = findings["day"].to_numpy().copy()
    pending = np.arange(len(findings), dtype=np.int64)
    width = FIRST_LOOK_BACK_DAYS
    while pending.size:
        clients = np.unique(findings["client_row"].to_numpy()[pending])
        held_days = _days_held(rules, findings.iloc[pending], opened[pending], clients, width)
        opened[pending] -= held_days
        pending = pending[held_days == width]
        width = min(2 * width, MOST_LOOK_BACK_DAYS)
    return opened


def _days_held(rules: Rules, findings: pd.DataFrame, before: Ints, clients: Ints, width: int) -> Ints:
    """For how many of the `width` days before each day in `before` each finding held without a break.

    All findings still looked at were pushed back by the same number of days, so a client has one day for all of them.
    """
    finding_client = findings["client_row"].to_numpy()
    first = np.zeros(clients.size, dtype=np.int64)
    first[np.searchsorted(clients, finding_client)] = before
    back = np.arange(1, width + 1, dtype=np.int64)
    cases = Cases(np.repeat(clients, width), (first[:, None] - back[None, :]).ravel())
    earlier = rules.find(cases, set(findings["kind"].tolist()))
    codes, count = dense_codes(
        np.concatenate([finding_client, earlier["client_row"].to_numpy()]),
        np.concatenate([findings["kind"].to_numpy(), earlier["kind"].to_numpy()]),
        np.concatenate([episode_subject(findings), episode_subject(earlier)]),
    )
    held = np.zeros((count, width), dtype=np.bool_)
    held[codes[len(findings) :], earlier["case"].to_numpy() % width] = True
    unbroken = np.cumprod(held, axis=1).sum(axis=1)
    return unbroken[codes[: len(findings)]]


def episode_subject(findings: pd.DataFrame) -> Ints:
    """What tells two findings of one kind about one client apart: the exercise, or nothing."""
    return np.where(is_of_exercise(findings), findings["subject"].to_numpy(), NO_SUBJECT)
