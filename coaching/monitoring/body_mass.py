"""The body mass that a rep of a body-weight exercise moves, where a paper gives the share and the mass is known."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

import numpy as np

from coaching.monitoring.record_reads import BODY_MASSES
from roster.mass import to_grams


def moved_body_g(
    client_ids: list[int],
    logs: Sequence[tuple[Any, ...]],
    log_ids: np.ndarray,
    exercise_ids: np.ndarray,
    shares: Mapping[int, Any],
) -> np.ndarray:
    """Grams a rep for each set (NaN unknown): the share of the newest body mass measured by the day of the log.

    `logs` are columns that begin with log id, client id and performed_on; `shares` those of exercises, None without.
    """
    moved = np.full(log_ids.shape, np.nan)
    shares = {pk: share for pk, share in shares.items() if share is not None}
    sets = np.flatnonzero(np.isin(exercise_ids, np.fromiter(shares, dtype=np.int64)))
    if not sets.size:
        return moved
    masses = _masses(client_ids)
    client_and_day = {pk: (client_id, day) for pk, client_id, day in zip(*logs[:3], strict=True)}
    for index in sets.tolist():
        client_id, performed_on = client_and_day[int(log_ids[index])]
        known = [grams for day, grams in masses.get(client_id, []) if day <= performed_on]
        if known:
            moved[index] = float(shares[int(exercise_ids[index])]) * known[-1]
    return moved


def _masses(client_ids: list[int]) -> dict[int, list[tuple[Any, int]]]:
    masses: dict[int, list[tuple[Any, int]]] = {}
    for client_id, day, entered, unit in BODY_MASSES.rows(client_ids):
        masses.setdefault(client_id, []).append((day, to_grams(Decimal(str(entered)), unit)))
    return masses
