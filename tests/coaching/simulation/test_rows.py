"""Every cell is written as the loaders read it."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from datetime import date, timedelta
from zoneinfo import available_timezones

import pytest

from coaching.simulation import SimulatedRoster, simulate
from coaching.simulation.kits import read_kit
from coaching.simulation.rows import BLOCK_COLUMNS, CLIENT_COLUMNS, LOG_COLUMNS, TRUTH_COLUMNS
from tests.coaching.simulation.conftest import STAGED_FOR

DAY = r"\d{4}-\d\d-\d\d"
NUMBER = r"\d+(\.\d+)?"
LOAD = rf"{NUMBER}|bw|band \w+"
CLIENT_GRAMMAR = {
    "client": r"[a-z.]+",
    "name": r"[A-Z]\w+ [A-Z]\w+",
    "email": r"[a-z.]+@example\.org",
    "unit": "kg|lb",
    "joined_on": DAY,
    "sends": "each|weekly|block",
    "minutes": r"|\d\d",
    "pauses": rf"|{DAY}\.\.{DAY}",
    "goal": ".+",
}
BLOCK_GRAMMAR = {
    "block": r"Block \d+",
    "starts_on": DAY,
    "week": "[1-4]",
    "day": "mon|tue|wed|thu|fri|sat",
    "session": r"\w+",
    "slot": "upper|lower|full",
    "exercise": r"[\w -]+",
    "implement": "|dumbbell|kettlebell|barbell|slam ball|sandbag|band",
    "count": "[12]",
    "sets": "[2-4]",
    "reps": r"\d+( each| s| m)?|\d+(-\d+)+",
    "load": LOAD,
    "unit": "",
    "rest_s": r"\d\d",
    "changed": "none|sets|reps|rest|load|deload",
}
LOG_GRAMMAR = {
    "performed_on": DAY,
    "block": r"|Block \d+",
    "week": "|[1-4]",
    "session": r"\w*",
    "exercise": r"[\w -]*",
    "set": r"\d?",
    "reps": r"\d*",
    "load": rf"|{LOAD}",
    "unit": "",
    "rest_s": r"|\d{2,3}",
    "warm_up": "|yes",
    "minutes": r"|\d\d",
    "rpe": rf"|{NUMBER}",
    "pain": r"\d?",
    "pain_region": r"|[a-z ]+",
    "note": ".*",
    "submission": r"|[0-9a-f-]{36}",
}
TRUTH_GRAMMAR = {
    "kind": r"pain|turnout|stall|step_not_taken|skips_it|cut_short|no_step|plan_runs_out|too_easy|ready",
    "urgency": "now|act|watch|good",
    "holds_from": DAY,
    "holds_until": rf"|{DAY}",
}


@pytest.fixture(scope="module", params=[1, 8])
def any_roster(request: pytest.FixtureRequest) -> SimulatedRoster:
    return simulate(request.param, 60, 40, until=STAGED_FOR)


@pytest.mark.parametrize(
    ("table", "columns", "grammar"),
    [
        ("clients", CLIENT_COLUMNS, CLIENT_GRAMMAR),
        ("blocks", BLOCK_COLUMNS, BLOCK_GRAMMAR),
        ("logs", LOG_COLUMNS, LOG_GRAMMAR),
        ("truth", TRUTH_COLUMNS, TRUTH_GRAMMAR),
    ],
)
def test_every_cell_follows_the_grammar_of_its_column(
    any_roster: SimulatedRoster, table: str, columns: tuple[str, ...], grammar: dict[str, str]
) -> None:
    rows = getattr(any_roster, table)

    wrong = [
        (column, row[column]) for row in rows for column in grammar if not re.fullmatch(grammar[column], row[column])
    ]

    assert rows
    assert wrong == []
    assert {tuple(row) for row in rows} == {columns}


def test_people_have_keys_of_their_own_and_live_in_known_zones(any_roster: SimulatedRoster) -> None:
    keys = [row["client"] for row in any_roster.clients]

    assert len(set(keys)) == len(keys)
    assert {row["time_zone"] for row in any_roster.clients} <= available_timezones()


def test_blocks_start_on_mondays_one_after_the_other(any_roster: SimulatedRoster) -> None:
    weeks = defaultdict(set)
    for row in any_roster.blocks:
        monday = date.fromisoformat(row["starts_on"])
        assert monday.weekday() == 0
        weeks[row["client"]].add((monday + timedelta(7 * (int(row["week"]) - 1)), row["block"]))

    assert all(len({monday for monday, _ in found}) == len(found) for found in weeks.values())


def test_a_load_is_one_that_the_kit_can_make(any_roster: SimulatedRoster) -> None:
    kits = {row["client"]: read_kit(row["kit"]) for row in any_roster.clients}

    off_the_kit = [
        row
        for row in any_roster.blocks
        if row["implement"] not in ("", "band")
        and float(row["load"]) not in kits[row["client"]].loads[row["implement"]]
    ]

    assert off_the_kit == []


def test_a_set_has_a_number_of_its_own_in_its_session(any_roster: SimulatedRoster) -> None:
    columns = ("client", "performed_on", "block", "week", "session", "submission", "exercise", "set")
    numbers = Counter(tuple(row[column] for column in columns) for row in any_roster.logs)

    assert [number for number, count in numbers.items() if count > 1] == []


def test_a_log_that_names_a_session_names_one_that_is_planned(any_roster: SimulatedRoster) -> None:
    columns = ("client", "block", "week", "session")
    planned = {tuple(row[column] for column in columns) for row in any_roster.blocks}
    named = {tuple(row[column] for column in columns) for row in any_roster.logs if row["block"]}

    assert named <= planned


def test_nobody_has_trained_in_the_future_or_before_joining(any_roster: SimulatedRoster) -> None:
    joined_on = {row["client"]: row["joined_on"] for row in any_roster.clients}

    assert all(joined_on[row["client"]] <= row["performed_on"] <= str(STAGED_FOR) for row in any_roster.logs)


def test_the_worked_progression_raises_sets_then_reps_then_cuts_rest_then_steps(roster: SimulatedRoster) -> None:
    weeks = {
        tuple((row["sets"], row["reps"], row["rest_s"], row["changed"]) for row in rows) for rows in _rounds(roster)
    }

    assert (
        ("3", "8", "75", "load"),
        ("4", "8", "75", "sets"),
        ("4", "10", "75", "reps"),
        ("4", "10", "50", "rest"),
    ) in weeks


def _rounds(roster: SimulatedRoster) -> list[list[dict[str, str]]]:
    rounds = defaultdict(list)
    for row in roster.blocks:
        rounds[row["client"], row["block"], row["session"], row["exercise"]].append(row)
    return list(rounds.values())


def test_where_the_day_begins_later_than_at_the_studio_nothing_is_dated_today(any_roster: SimulatedRoster) -> None:
    western = {row["client"] for row in any_roster.clients if row["time_zone"].startswith("America/")}
    dates = {row["performed_on"] for row in any_roster.logs if row["client"] in western}

    assert western
    assert max(dates) < str(STAGED_FOR)
