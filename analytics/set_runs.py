"""Working sets by the planned row that they count for: in `match_sets` the sets of one row stand side by side, so that
a sum or a maximum a row is one over a stretch.
"""

from __future__ import annotations

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from analytics.frame_schema import Standing
from analytics.sorted_keys import Floats, Ints, run_starts
from analytics.table import Table

Number = TypeVar("Number", np.int64, np.float64)


class SetRuns:
    """Stretches of the sets of one log that count for one planned row, or for none."""

    def __init__(self, matched_sets: Table, links: Table, planned_count: int) -> None:
        planned_row, log_row = matched_sets["planned_row"], matched_sets["log_row"]
        self.first = np.flatnonzero(run_starts(log_row, planned_row))
        self.last = np.append(self.first[1:], planned_row.size)[: self.first.size] - 1
        self.log_row = log_row[self.first]
        self.lengths: Ints = self.last - self.first + 1
        is_first_log = links["standing"][self.log_row] == Standing.FIRST
        # Only the session's own log says what was done of its plan.
        self._counted = np.flatnonzero(is_first_log & (planned_row[self.first] >= 0))
        self._planned_row = planned_row[self.first[self._counted]]
        self._planned_count = planned_count

    def sums(self, amounts: NDArray[np.generic]) -> Ints:
        """Of each stretch the sum; of true and false how many are true."""
        if not self.first.size:
            return np.zeros(0, dtype=np.int64)
        return np.add.reduceat(amounts, self.first, dtype=np.int64)

    def float_sums(self, amounts: Floats) -> Floats:
        return np.add.reduceat(amounts, self.first) if self.first.size else np.zeros(0)

    def greatest(self, amounts: NDArray[Number]) -> NDArray[Number]:
        return np.maximum.reduceat(amounts, self.first) if self.first.size else amounts[:0]

    def by_planned_row(self, amounts: NDArray[Number], nothing: float = 0) -> NDArray[Number]:
        """What was found for each stretch, by planned row; `nothing` where no set counts for it."""
        found = np.full(self._planned_count, nothing, dtype=amounts.dtype)
        found[self._planned_row] = amounts[self._counted]
        return found
