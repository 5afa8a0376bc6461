"""The interval of the difference of two means with spreads of their own (Welch 1947).

The hours of sleep gained: Student. The Probable Error of a Mean. Biometrika 1908; 6: 1-25, p. 20. The interval is that
which the documentation of R gives for its data set `sleep` (`t.test(extra ~ group)`).
"""

from __future__ import annotations

import numpy as np
import pytest

from analytics.period_change import difference_of_means

FIRST = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0]
SECOND = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4]


def test_student_s_hours_of_sleep():
    told = difference_of_means(np.array(FIRST), np.array(SECOND))

    assert told.amount == pytest.approx(0.75 - 2.33)
    assert (told.low, told.high) == pytest.approx((-3.3654832, 0.2054832), abs=5e-8)
    assert not told.is_clear
