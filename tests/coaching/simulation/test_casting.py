"""The roster holds every situation, and most people in it are fine."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta

import pytest

from coaching.simulation import SimulatedRoster, read_mix, simulate
from coaching.simulation.casting import NOW
from coaching.simulation.rows import Row
from tests.coaching.simulation.conftest import STAGED_FOR

# An ordinary fortnight: every weekday on which somebody may start the demo.
FORTNIGHT = [STAGED_FOR + timedelta(days) for days in range(14)]
SUBJECTS_OF_TURNOUT = {"silent", "quiet", "not_started", "week_gone", "early"}
KINDS = {
    "pain", "turnout", "stall", "step_not_taken", "skips_it", "cut_short", "no_step", "plan_runs_out", "too_easy",
    "ready",
}  # fmt: skip


def _holding(roster: SimulatedRoster, day: date) -> list[Row]:
    return [row for row in roster.truth if row["holds_from"] <= str(day) and str(day) <= (row["holds_until"] or "9")]


@pytest.mark.parametrize("day", FORTNIGHT)
def test_every_kind_of_finding_is_true_of_somebody_now(day: date) -> None:
    roster = simulate(1, until=day)

    assert {row["kind"] for row in _holding(roster, day)} == KINDS


@pytest.mark.parametrize("seed", range(6))
def test_ten_to_fifteen_of_36_have_a_situation_now(seed: int) -> None:
    roster = simulate(seed, until=STAGED_FOR)

    assert 10 <= len({row["client"] for row in _holding(roster, STAGED_FOR)}) <= 15


def test_every_variant_was_true_at_some_time(roster: SimulatedRoster) -> None:
    pains = {row["urgency"] for row in roster.truth if row["kind"] == "pain"}
    turnouts = {row["subject"] for row in roster.truth if row["kind"] == "turnout"}
    stalls = {(row["situation"], row["what"].split()[-1]) for row in roster.truth if row["kind"] == "stall"}

    assert pains == {"now", "act", "watch"}
    assert turnouts == SUBJECTS_OF_TURNOUT
    assert stalls == {
        (variant, reason)
        for variant in ("stall_2", "stall_3", "second_round")
        for reason in ("reps_short", "sets_short", "load_below")
    }


def test_many_situations_are_over(roster: SimulatedRoster) -> None:
    over = [row for row in roster.truth if "" < row["holds_until"] < str(STAGED_FOR)]

    assert len({row["client"] for row in over}) >= 15


def test_three_hundred_people_have_the_same_proportions() -> None:
    roster = simulate(1, 300, until=STAGED_FOR)

    situations = Counter(row["situation"] for row in _holding(roster, STAGED_FOR))
    share = len({row["client"] for row in _holding(roster, STAGED_FOR)}) / 300

    assert 0.3 < share < 0.45
    assert all(
        6 <= situations[name] <= 12 for name in ("pain_now", "silent", "skips_it", "step_not_taken", "cut_short")
    )


@pytest.mark.parametrize("clients", [1, 5, 12])
def test_a_small_roster_has_the_graver_situations_first(clients: int) -> None:
    roster = simulate(1, clients, until=STAGED_FOR)

    assert len(roster.clients) == clients
    assert {row["situation"] for row in _holding(roster, STAGED_FOR)} <= {
        "pain_now",
        "stall_3",
        "week_gone",
        "silent",
        "plan_runs_out",
        "ready",
    }


def test_the_roster_has_people_of_every_sort(roster: SimulatedRoster) -> None:
    clients = roster.clients
    with_logs = {row["client"] for row in roster.logs}
    monday = STAGED_FOR - timedelta(STAGED_FOR.weekday())

    assert {row["unit"] for row in clients} == {"kg", "lb"}
    assert {row["sends"] for row in clients} == {"each", "weekly", "block"}
    assert "Pacific/Auckland" in {row["time_zone"] for row in clients}
    assert any(row["pauses"].endswith(str(STAGED_FOR + timedelta(9))) for row in clients)
    assert any(row["joined_on"] >= str(monday - timedelta(5)) for row in clients if row["client"] in with_logs)
    assert any(row["client"] not in with_logs for row in clients)


def test_the_logs_have_every_oddity_that_logs_have(roster: SimulatedRoster) -> None:
    told = [row for row in roster.logs if not row["exercise"]]
    unnamed = [row for row in roster.logs if not row["block"]]
    extra = [row for row in unnamed if row["exercise"] in ("box step-over", "rope jumps")]
    second = [row for row in roster.logs if row["submission"]]

    assert all((told, unnamed, extra, second))
    assert len(unnamed) > len(extra)
    assert _performed_after_their_week(roster)


def _performed_after_their_week(roster: SimulatedRoster) -> list[Row]:
    starts = {(row["client"], row["block"]): date.fromisoformat(row["starts_on"]) for row in roster.blocks}
    return [
        row
        for row in roster.logs
        if row["block"]
        and date.fromisoformat(row["performed_on"])
        >= starts[row["client"], row["block"]] + timedelta(7 * int(row["week"]))
    ]


def test_the_plans_have_every_form_that_plans_have(roster: SimulatedRoster) -> None:
    reps = {row["reps"].lstrip("0123456789") for row in roster.blocks}

    assert {"", " each", " s", " m"} < reps
    assert any(word.startswith("-") for word in reps)
    assert {row["changed"] for row in roster.blocks} == {"none", "load", "sets", "reps", "rest", "deload"}
    assert {row["load"][:4] for row in roster.blocks} > {"bw", "band"}
    assert {row["count"] for row in roster.blocks} == {"1", "2"}


def test_a_mix_of_nobody_has_nothing_to_find() -> None:
    roster = simulate(1, 24, until=STAGED_FOR, mix=read_mix("none"))

    assert roster.truth == []
    assert len(roster.clients) == 24


def test_a_mix_can_ask_for_one_thing_of_everybody() -> None:
    roster = simulate(1, 18, until=STAGED_FOR, mix=read_mix("none, stall_act=36"))

    assert Counter(row["urgency"] for row in roster.truth) == {"act": 18, "watch": 18}


@pytest.mark.parametrize("words", ["nonsense=3", "silent=many", "silent=-1", "silent"])
def test_a_mix_that_makes_no_sense_is_refused(words: str) -> None:
    with pytest.raises(ValueError, match="“"):
        read_mix(words)


def test_the_parts_have_names_of_their_own() -> None:
    assert len({part.name for part in NOW}) == len(NOW)
