"""What an assessment says, by ids instead of rows, so that two answers can be compared."""

from __future__ import annotations

import pandas as pd

from analytics.assessment import Assessment, assess
from analytics.findings_schema import Kind, Turnout, Urgency
from analytics.frame_schema import Reason, Record, Standing, Status
from analytics.table import Table
from tests.analytics.frames import assessed, planned_days, weekly_logs

# What tells the rows of each answer apart.
KEYS = {
    "links": ["log_id"],
    "statuses": ["session_id"],
    "weeks": ["client_id", "week_start_day"],
    "exposures": ["planned_id"],
    "findings": ["client_id", "kind", "subject"],
}
# Numbers of rows and of rounds: how a frame is laid out, not what it says.
_LAYOUT = ["client_row", "planned_row", "log_row", "round", "row", "set_row"]


def answers(record: Record) -> dict[str, pd.DataFrame]:
    """Links, statuses, week figures, exposures and findings, each in an order of its own."""
    return answers_of(assess(record))


def answers_of(assessment: Assessment) -> dict[str, pd.DataFrame]:
    client_ids = assessment.history.record.clients["client_id"]
    log_ids = assessment.history.record.session_logs["log_id"]

    def by_ids(name: str, table: Table) -> pd.DataFrame:
        told = table.to_frame()
        if "client_row" in told:
            told["client_id"] = client_ids[told["client_row"].to_numpy()]
        if "log_row" in told:
            told["log_id"] = log_ids[told["log_row"].to_numpy()]
        told = told.drop(columns=[column for column in _LAYOUT if column in told])
        return told[sorted(told)].sort_values(KEYS[name], ignore_index=True)

    tables = {
        "links": assessment.history.links,
        "statuses": assessment.statuses,
        "weeks": assessment.weeks,
        "exposures": assessment.exposures,
        "findings": assessment.findings,
    }
    return {name: by_ids(name, table) for name, table in tables.items()}


def of_client(told: dict[str, pd.DataFrame], client_id: int, record: Record) -> dict[str, pd.DataFrame]:
    """The rows about one client."""
    sessions, logs = record.planned_sessions, record.session_logs
    session_ids = sessions["session_id"][sessions["client_id"] == client_id]
    log_ids = logs["log_id"][logs["client_id"] == client_id]
    wanted = {
        "links": told["links"]["log_id"].isin(log_ids),
        "statuses": told["statuses"]["session_id"].isin(session_ids),
        **{name: told[name]["client_id"] == client_id for name in ("weeks", "exposures", "findings")},
    }
    return {name: told[name][rows].reset_index(drop=True) for name, rows in wanted.items()}


def statuses(assessment: Assessment) -> dict[int, str]:
    """The status of each planned session by its number."""
    told = assessment.statuses
    return {pk: Status(status).name.lower() for pk, status in zip(told["session_id"], told["status"], strict=True)}


def standings(assessment: Assessment) -> list[tuple[int, str]]:
    """Of each log in the order given: its planned session (-1: none) and what it is to it."""
    told = assessment.history.links
    return [(pk, Standing(code).name.lower()) for pk, code in zip(told["session_id"], told["standing"], strict=True)]


def reasons(assessment: Assessment) -> list[str]:
    """Why each exposure was not met, in order; "none" for those that were."""
    return [Reason(code).name.lower() for code in assessment.exposures["reason"]]


def findings(assessment: Assessment) -> dict[str, str]:
    """The urgency of each kind found, as words."""
    told = zip(assessment.findings["kind"], assessment.findings["urgency"], strict=True)
    return {Kind(kind).name.lower(): Urgency(code).name.lower() for kind, code in told}


def found(assessment: Assessment, kind: Kind) -> dict[str, int]:
    """The one finding of a kind, as a row."""
    rows = assessment.findings.rows(assessment.findings["kind"] == kind).records()
    assert len(rows) == 1, f"{len(rows)} findings of {kind.name}"
    return rows[0]


def turnout(assessment: Assessment) -> str | None:
    """Which of the turnout conditions holds."""
    told = assessment.findings
    subjects = told["subject"][told["kind"] == Kind.TURNOUT]
    return Turnout(subjects[0]).name.lower() if len(subjects) else None


def found_in(plan: list, *sets: str, on: str | None = None, **about) -> dict[str, str]:
    """The findings on the day of the last log, or another."""
    return findings(assessed(plan, weekly_logs(*sets), on=on or planned_days(len(sets))[-1], **about))
