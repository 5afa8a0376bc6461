"""Packs of ana: a client with squats on Mondays, 3 x 8 from 5 January 2026 on."""

from __future__ import annotations

from datetime import UTC, datetime

from coaching.check_ins.composing import compose
from coaching.check_ins.content import Figure, FigureKey, Pack, Period
from coaching.check_ins.periods import month_period
from roster.people.models import Client, Coach
from tests.coaching.monitoring.files import done, load_ana, weekly_logs, weekly_plan

JANUARY, FEBRUARY, MARCH = (month_period(2026, month) for month in (1, 2, 3))
# Long after: everything is counted.
LATER = datetime(2026, 6, 1, 12, tzinfo=UTC)
MET = "8@20 8@20 8@20"
# A load step in the fifth week, on 2 February.
EIGHT_WEEKS = ["20"] * 4 + ["22"] * 4
AS_ASKED = [MET] * 4 + ["8@22 8@22 8@22"] * 4


def ana_with(coach: Coach, loads: list[str], sets: list[str], **cells: str) -> Client:
    """Loads asked for week by week, and what was done of each; an empty text is nothing."""
    return load_ana(coach, weekly_plan(*loads), *weekly_logs(*sets), **cells)


def pack_of(client: Client, period: Period = FEBRUARY, **options: object) -> Pack:
    return compose(client, period, **{"now": LATER, **options})


def texts(pack: Pack) -> list[str]:
    return [sentence.text for sentence in pack.sentences]


def figure(pack: Pack, key: FigureKey) -> Figure:
    return next(figure for figure in pack.figures if figure.key is key)


def extra(day: str, sets: str = MET) -> list[dict[str, str]]:
    """A session that nobody planned."""
    return done(day, {"Swing": sets}, names="")


