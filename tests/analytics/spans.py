"""The same days for every client of an assessment."""

from __future__ import annotations

import numpy as np

from analytics.assessment import Assessment
from analytics.span_figures import Spans
from tests.analytics.frames import day_of


def days(assessment: Assessment, first: int, last: int) -> Spans:
    count = len(assessment.history.record.clients)
    return Spans(np.full(count, first), np.full(count, last))


def span(assessment: Assessment, first: str, last: str) -> Spans:
    """From one written day to another."""
    return days(assessment, day_of(first), day_of(last))
