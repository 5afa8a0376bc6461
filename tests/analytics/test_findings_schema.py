"""What a finding is."""

from __future__ import annotations

import numpy as np
import pandas as pd

from analytics.findings_schema import EXERCISE_KINDS, Cases, Kind, Urgency, all_found, found


def test_a_finding_carries_its_case_client_and_day():
    cases = Cases(np.array([4, 7, 7]), np.array([10, 20, 21]))

    subject, row = np.array([3, -1]), np.array([5, 6])
    told = found(Kind.PAIN, cases, np.array([0, 2]), subject=subject, urgency=Urgency.ACT, row=row, count=2)

    assert pd.DataFrame(all_found([told])).to_dict("records") == [
        {"case": 0, "client_row": 4, "day": 10, "kind": 0, "subject": 3, "urgency": 1, "row": 5, "count": 2},
        {"case": 2, "client_row": 7, "day": 21, "kind": 0, "subject": -1, "urgency": 1, "row": 6, "count": 2},
    ]


def test_none_found_has_the_same_columns_and_no_row():
    cases, none = Cases(np.array([4]), np.array([10])), np.zeros(0, dtype=np.int64)

    told = found(Kind.PAIN, cases, none, subject=-1, urgency=Urgency.ACT, row=none, count=1)

    assert (all_found([told, told])["case"].size, len(cases)) == (0, 1)
    assert list(told) == ["case", "client_row", "day", "kind", "subject", "urgency", "row", "count"]


def test_urgencies_are_in_order_of_urgency():
    assert sorted(Urgency) == [Urgency.NOW, Urgency.ACT, Urgency.WATCH, Urgency.GOOD]


def test_six_kinds_are_about_an_exercise():
    assert {kind.name for kind in EXERCISE_KINDS} == {
        "STALL", "STEP_NOT_TAKEN", "SKIPS_IT", "NO_STEP", "TOO_EASY", "READY",
    }
