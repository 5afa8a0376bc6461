"""Is this period another than the one before, or does noise cover the difference?

Turnout is a share of few sessions: Wilson's interval (1927) for each period, and for their difference Newcombe's that
is made of the two (Statistics in Medicine 1998; 17: 873-890, method 10). Shares of the plan done are compared by their
sessions (Welch 1947). Strength: a single change below 11.64 % is within measurement error (Grgic 2020: median
test-retest CV of the 1RM 4.2 %, times the square root of two and 1.96). An interval that holds zero says too little.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import special

from analytics.sorted_keys import Floats

CONFIDENCE = 0.95
# Of fewer sessions in a period no spread is known.
FEWEST_SESSIONS = 3
TEST_RETEST_CV = 0.042
# Shares that differ by less differ by how they were computed.
_NO_SPREAD = 1e-9


@dataclass(frozen=True)
class Difference:
    """Now less before, with its interval; NaN where too little is known."""

    amount: float
    low: float
    high: float

    @property
    def is_clear(self) -> bool:
        """Whether the interval lies on one side of zero."""
        return self.low > 0 or self.high < 0


UNKNOWN = Difference(np.nan, np.nan, np.nan)


def wilson_interval(attended: int, due: int) -> tuple[float, float]:
    """The share's interval; of nothing it is all there is.

    >>> [round(bound, 4) for bound in wilson_interval(9, 12)]
    [0.4677, 0.9111]
    """
    if due == 0:
        return 0.0, 1.0
    z = _z()
    share, z2 = attended / due, z * z
    middle = share + z2 / (2 * due)
    half = z * np.sqrt(share * (1 - share) / due + z2 / (4 * due * due))
    scale = 1 + z2 / due
    # The bounds of none and of all are exact, whatever the square root left of them.
    low = 0.0 if attended == 0 else float((middle - half) / scale)
    high = 1.0 if attended == due else float((middle + half) / scale)
    return low, high


def difference_of_shares(now: tuple[int, int], before: tuple[int, int]) -> Difference:
    """Of two (attended, due); unknown where nothing was due."""
    if not now[1] or not before[1]:
        return UNKNOWN
    share_now, share_before = now[0] / now[1], before[0] / before[1]
    (low_now, high_now), (low_before, high_before) = wilson_interval(*now), wilson_interval(*before)
    amount = share_now - share_before
    below = float(np.hypot(share_now - low_now, high_before - share_before))
    above = float(np.hypot(high_now - share_now, share_before - low_before))
    return Difference(amount, amount - below, amount + above)


def difference_of_means(now: Floats, before: Floats) -> Difference:
    """Of two samples of sessions, NaN left out; unknown where either has fewer than three.

    Two samples without any spread differ by just what they differ by.
    """
    now, before = now[~np.isnan(now)], before[~np.isnan(before)]
    if min(now.size, before.size) < FEWEST_SESSIONS:
        return UNKNOWN
    amount = float(now.mean() - before.mean())
    if max(np.ptp(now), np.ptp(before)) < _NO_SPREAD:
        amount = round(amount, 9)
        return Difference(amount, amount, amount)
    of_now, of_before = now.var(ddof=1) / now.size, before.var(ddof=1) / before.size
    freedom = (of_now + of_before) ** 2 / (of_now**2 / (now.size - 1) + of_before**2 / (before.size - 1))
    half = float(special.stdtrit(freedom, 0.5 + CONFIDENCE / 2) * np.sqrt(of_now + of_before))
    return Difference(amount, amount - half, amount + half)


def smallest_change_worth_believing() -> float:
    """Of a 1RM, as a share of it.

    >>> round(100 * smallest_change_worth_believing(), 2)
    11.64
    """
    return _z() * float(np.sqrt(2)) * TEST_RETEST_CV


def _z() -> float:
    return float(special.ndtri(0.5 + CONFIDENCE / 2))
