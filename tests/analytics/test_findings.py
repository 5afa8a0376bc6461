"""All findings about some clients as at a day, and since when each has held."""

from __future__ import annotations

import numpy as np
import pytest

from analytics.findings import FIRST_LOOK_BACK_DAYS, MOST_LOOK_BACK_DAYS, episode_subject
from analytics.findings_schema import NO_SUBJECT, Cases, Kind
from tests.analytics.answers import found
from tests.analytics.frames import (
    KNEE,
    PRESS,
    SHOULDER,
    SQUAT,
    asked,
    assessed,
    client,
    day_of,
    log,
    planned_days,
    session,
    weekly,
    weekly_logs,
)

MET, SHORT = "8@20 8@20 8@20", "8@20 8@20 7@20"


def opened(kind: Kind, *args, **about) -> int:
    return found(assessed(*args, **about), kind)["opened_day"]


def test_a_finding_opens_on_the_first_day_of_its_run():
    plan, logs = weekly("3x8@20", "3x7@20", "3x6@20"), weekly_logs("7@20 8@20 8@20", "6@20 8@20 8@20", "5@20 8@20 8@20")

    assert opened(Kind.STALL, plan, logs, on="2026-01-23") == day_of("2026-01-12")


@pytest.mark.parametrize(
    "days", [0, 1, FIRST_LOOK_BACK_DAYS - 1, FIRST_LOOK_BACK_DAYS, FIRST_LOOK_BACK_DAYS + 1, MOST_LOOK_BACK_DAYS, 400]
)
def test_however_long_ago_that_was(days: int):
    """The plan runs out on Thursday 8 January, and pain was reported then."""
    later = str(np.datetime64("2026-01-08") + days)
    about = {"logs": [log("2026-01-08", pain=4, of=1)], "on": later, "clients": [client(1)]}

    assert opened(Kind.PLAN_RUNS_OUT, weekly("3x8@20"), **about) == day_of("2026-01-08")
    assert opened(Kind.PAIN, weekly("3x8@20"), **about) == day_of("2026-01-08")


def test_a_day_without_it_begins_a_new_run():
    plan = weekly(*["3x8@20"] * 12)

    since = opened(Kind.TURNOUT, plan, weekly_logs(*[MET] * 8), on="2026-03-20", pauses=[("2026-03-15", "2026-03-15")])

    assert since == day_of("2026-03-16")


def test_turnout_goes_on_while_any_of_its_conditions_holds():
    """Early from 19 January, a week gone, quiet, silent."""
    plan, logs = weekly(*["3x8@20"] * 30, every=3), weekly_logs(*[MET] * 3, every=3)

    told = [found(assessed(plan, logs, on=day), Kind.TURNOUT) for day in ("2026-01-19", "2026-01-26", "2026-02-28")]

    assert len({one["subject"] for one in told}) == 3
    assert {one["opened_day"] for one in told} == {day_of("2026-01-19")}


def test_pain_goes_on_whatever_region_is_named():
    logs = [log(day, pain=4, region=region) for day, region in zip(planned_days(2), (KNEE, SHOULDER), strict=True)]

    assert opened(Kind.PAIN, logs=logs, on="2026-01-12") == day_of("2026-01-05")


def test_each_exercise_has_a_run_of_its_own():
    both = asked("1x8@20", SQUAT), asked("1x8@10", PRESS)
    plan = [session(number, day, *both) for number, day in enumerate(planned_days(3), start=1)]
    logs = weekly_logs({SQUAT: "7@20", PRESS: "8@10"}, {SQUAT: "7@20", PRESS: "7@10"}, {SQUAT: "7@20", PRESS: "7@10"})

    told = assessed(plan, logs, on="2026-01-19").findings
    stalls = {row["subject"]: row["opened_day"] for row in told.records() if row["kind"] == Kind.STALL}

    assert stalls == {SQUAT: day_of("2026-01-12"), PRESS: day_of("2026-01-19")}


def test_clients_may_stand_at_different_days():
    clients = [client(1), client(2)]
    whole = assessed(weekly("3x8@20"), on="2026-01-20", clients=clients)

    cases = Cases(np.array([0, 0, 1]), np.array([day_of(day) for day in ("2026-01-07", "2026-01-20", "2026-01-20")]))
    told = whole.rules.find(cases)

    assert sorted(zip(told["case"], told["kind"], strict=True)) == [(1, Kind.TURNOUT), (1, Kind.PLAN_RUNS_OUT)]


def test_they_are_ordered_by_client_kind_and_subject():
    both = asked("1x8@20", PRESS), asked("1x8@20", SQUAT)
    plan = [session(1, "2026-01-05", *both), session(2, "2026-01-05", client=2)]
    logs = [log("2026-01-05", {SQUAT: "8@20", PRESS: "8@20"}, of=1), log("2026-01-06", {99: "8"}, pain=4)]

    told = assessed(plan, logs, on="2026-01-12", clients=[client(2), client(1)]).findings

    assert told.to_frame()[["client_row", "kind", "subject"]].to_numpy().tolist() == [
        [0, Kind.TURNOUT, 2], [0, Kind.PLAN_RUNS_OUT, NO_SUBJECT],
        [1, Kind.PAIN, NO_SUBJECT], [1, Kind.PLAN_RUNS_OUT, NO_SUBJECT], [1, Kind.READY, SQUAT], [1, Kind.READY, PRESS],
    ]


def test_only_an_exercise_tells_findings_of_one_kind_apart():
    hurt = log("2026-01-06", {99: "8"}, pain=4, region=KNEE)

    told = assessed(weekly("3x8@20"), [*weekly_logs(MET), hurt], on="2026-01-18").findings

    kinds = dict(zip(told["kind"], episode_subject(told), strict=True))
    assert kinds == {Kind.PAIN: NO_SUBJECT, Kind.PLAN_RUNS_OUT: NO_SUBJECT, Kind.READY: SQUAT}


def test_nobody_and_nothing_have_no_findings():
    assert not len(assessed(on="2026-01-05", clients=[]).findings)
    assert not len(assessed(on="2026-01-05").findings)


@pytest.mark.parametrize("kinds", [{Kind.PAIN}, {Kind.NO_STEP}, {Kind.TURNOUT, Kind.READY}, set(Kind)])
def test_asked_for_some_kinds_the_rules_find_those_of_all_that_are_of_them(kinds: set[Kind]):
    told = assessed(weekly(*["3x8@20"] * 4), [*weekly_logs(MET, MET, MET), log("2026-01-20", {99: "8"}, pain=4)],
                    on="2026-02-10")
    days = Cases(np.zeros(40, dtype=np.int64), day_of("2026-02-10") - np.arange(40))
    of_all = told.rules.find(days)

    of_some = told.rules.find(days, kinds)

    assert len(of_some)
    expected = of_all.rows(np.isin(of_all["kind"], list(kinds)))
    assert sorted(of_some.to_frame().to_numpy().tolist()) == sorted(expected.to_frame().to_numpy().tolist())
