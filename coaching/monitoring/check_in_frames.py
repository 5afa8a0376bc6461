"""Check-in calls as the tables that analytics starts from."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from analytics.frame_schema import build_table
from analytics.table import Table
from analytics.training_weeks import to_day
from coaching.monitoring import record_reads


def check_in_plans(people: Sequence[tuple[Any, ...]]) -> Table:
    """Of clients, given as `record_reads.CLIENTS` reads them, those whose studio has check-in calls."""
    plans = [(pk, begins, set_on) for pk, begins, set_on in zip(people[0], *people[5:7], strict=True) if begins]
    return build_table("check_in_plans", {
        "client_id": [pk for pk, _, _ in plans],
        "begins_day": [to_day(begins) for _, begins, _ in plans],
        "set_day": [np.nan if set_on is None else to_day(set_on) for _, _, set_on in plans],
    })


def check_ins(client_ids: Sequence[int]) -> Table:
    """The calls that were held; a studio that has none costs no further read."""
    columns = record_reads.CHECK_INS.columns(client_ids)
    return build_table("check_ins", {
        "client_id": columns[0],
        "due_day": [to_day(due_on) for due_on in columns[1]],
        "held_day": [to_day(held_on) for held_on in columns[2]],
    })
