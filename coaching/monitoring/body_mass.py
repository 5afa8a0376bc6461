"""The body mass that a rep of a body-weight exercise moves, where a paper gives the share and the mass is known."""

from __future__ import annotations

from typing import Any

import numpy as np

from roster.blocks.models import Exercise
from roster.logs.models import BodyMeasure
from roster.mass import to_grams


def moved_body_g(
    client_ids: list[int], logs: list[tuple[Any, ...]], log_ids: np.ndarray, exercise_ids: np.ndarray
) -> np.ndarray:
    """Grams a rep for each set (NaN unknown): the share of the newest body mass measured by the day of the log.

    `logs` are columns that begin with log id, client id and performed_on.
    """
    moved = np.full(log_ids.shape, np.nan)
    shares = dict(Exercise.objects.filter(body_mass_share__isnull=False).values_list("pk", "body_mass_share"))
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
    measures = BodyMeasure.objects.filter(client_id__in=client_ids, what=BodyMeasure.What.MASS)
    for client_id, day, entered, unit in measures.values_list("client_id", "measured_on", "entered", "unit"):
        masses.setdefault(client_id, []).append((day, to_grams(entered, unit)))
    return masses
