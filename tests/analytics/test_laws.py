"""What must not change an answer: the order of rows, other clients, the size of ids, how the same work was filed."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from pandas.testing import assert_frame_equal

from analytics.assessment import Assessment, assess
from analytics.findings import episode_subject
from analytics.findings_schema import Cases
from analytics.frame_schema import Record
from analytics.table import Table
from tests.analytics.answers import KEYS, answers, of_client
from tests.analytics.invented import invented_record

SEEDS = range(6)
# Rows without a client of their own: by which column they hang on those of another table.
OWNED = [
    ("planned_exercises", "session_id", "planned_sessions"), ("set_targets", "planned_id", "planned_exercises"),
    ("set_logs", "log_id", "session_logs"),
]
# Which columns hold ids of what.
ID_COLUMNS = {
    "client_id": ["client_id"],
    "session_id": ["session_id", "given_session_id"],
    "planned_id": ["planned_id"],
    "exercise_id": ["exercise_id", "asked_id"],
    "log_id": ["log_id"],
}


def assert_same_answers(told: dict[str, pd.DataFrame], expected: dict[str, pd.DataFrame]) -> None:
    for name, frame in expected.items():
        assert_frame_equal(told[name], frame, rtol=1e-12, obj=name)


def only_client(record: Record, client_id: int) -> Record:
    frames = record.to_frames()
    own = {name: frame[frame["client_id"] == client_id] for name, frame in frames.items() if "client_id" in frame}
    for name, key, owner in OWNED:
        own[name] = frames[name][frames[name][key].isin(own[owner][key])]
    return replace(record, **own)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_order_of_rows_changes_no_answer(seed):
    record = invented_record(seed)

    shuffled = Record(**{name: frame.sample(frac=1, random_state=seed) for name, frame in record.to_frames().items()})

    assert_same_answers(answers(shuffled), answers(record))


@pytest.mark.parametrize("seed", SEEDS)
def test_one_client_alone_is_that_client_among_all(seed):
    """And so another client added changes nothing about those who were there."""
    record = invented_record(seed)
    of_all = answers(record)

    for client_id in record.clients["client_id"]:
        assert_same_answers(answers(only_client(record, client_id)), of_client(of_all, client_id, record))


@pytest.mark.parametrize("seed", SEEDS)
def test_ids_of_any_size_in_any_order_change_no_answer(seed):
    """Sessions keep their order: it decides between two of one day that share as many exercises with a log."""
    record = invented_record(seed)
    random = np.random.default_rng(seed)
    renamed = {
        "client_id": random.permutation(1_000)[:200] * 7 + 3,
        "session_id": np.arange(5_000) * 13 + 1_000_000,
        "planned_id": random.permutation(20_000) * 5 + 2,
        "exercise_id": random.permutation(500) * 11 + 9,
        "log_id": random.permutation(5_000) * 3 + 1,
    }

    told = answers(_renamed(record, renamed))

    expected = {name: _renamed_answer(name, frame, renamed) for name, frame in answers(record).items()}
    assert_same_answers(told, expected)


def _renamed(record: Record, renamed: dict[str, np.ndarray]) -> Record:
    return Record(**{name: _renamed_ids(frame, renamed) for name, frame in record.to_frames().items()})


def _renamed_ids(frame: pd.DataFrame, renamed: dict[str, np.ndarray]) -> pd.DataFrame:
    told = frame.copy()
    for what, columns in ID_COLUMNS.items():
        for column in columns:
            if column in told:
                ids = told[column].to_numpy()
                told[column] = np.where(ids < 0, ids, renamed[what][ids])
    return told


def _renamed_answer(name: str, frame: pd.DataFrame, renamed: dict[str, np.ndarray]) -> pd.DataFrame:
    told = _renamed_ids(frame, renamed)
    if name == "findings":
        is_of_exercise = episode_subject(Table.of_frame(frame)) >= 0
        told["subject"] = np.where(is_of_exercise, renamed["exercise_id"][frame["subject"]], frame["subject"])
    return told.sort_values(KEYS[name], ignore_index=True)


@pytest.mark.parametrize("seed", SEEDS)
def test_what_was_logged_later_changes_no_answer_of_an_earlier_day(seed):
    record = invented_record(seed)
    day = record.clients["as_of_day"][0]
    later = record.session_logs["log_id"][record.session_logs["performed_day"] > day]
    until_then = Record(**{
        name: frame[~frame["log_id"].isin(later)] if "log_id" in frame else frame
        for name, frame in record.to_frames().items()
    })

    told, expected = answers(until_then), answers(record)

    assert len(later), "the roster goes on after the day"
    is_known = ~expected["links"]["log_id"].isin(later)
    expected["links"] = expected["links"][is_known].reset_index(drop=True)
    assert_same_answers(told, expected)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_finding_has_held_since_it_opened_by_a_replay_day_by_day(seed):
    assessment = assess(invented_record(seed))
    # Client, kind and exercise of each finding -> the first day of its run so far.
    opened = {_condition(row): row["day"] for row in _rows(assessment.findings)}
    pending, day = set(opened), int(assessment.findings["day"].min())

    while pending:
        day -= 1
        pending &= {_condition(row) for row in _rows(_findings_on(assessment, day))}
        opened |= dict.fromkeys(pending, day)

    assert [row["opened_day"] for row in _rows(assessment.findings)] == list(opened.values())


def _findings_on(assessment: Assessment, day: int) -> Table:
    clients = np.arange(len(assessment.history.record.clients))
    return assessment.rules.find(Cases(clients, np.full(clients.size, day)))


def _rows(findings: Table) -> list[dict[str, int]]:
    return findings.with_columns({"same": episode_subject(findings)}).records()


def _condition(row: dict[str, int]) -> tuple[int, int, int]:
    return row["client_row"], row["kind"], row["same"]
