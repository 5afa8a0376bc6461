"""Reps and loads as plans and logs write them."""

from __future__ import annotations

from contextlib import suppress
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roster.blocks.cells import Load, Targets, parse_load, parse_reps_done, parse_targets
from roster.tables.cells import CellRefused


@pytest.mark.parametrize(
    ("cell", "targets"),
    [
        ("8", Targets((8,), "", False)),
        ("8 each", Targets((8,), "", True)),
        ("8 each side", Targets((8,), "", True)),
        ("30 s", Targets((30,), "s", False)),
        ("30s", Targets((30,), "s", False)),
        ("20 m", Targets((20,), "m", False)),
        ("30 s each", Targets((30,), "s", True)),
        ("12-10-8", Targets((12, 10, 8), "", False)),
        ("12-10-8 each", Targets((12, 10, 8), "", True)),
        ("12 - 10 - 8", Targets((12, 10, 8), "", False)),
        ("", None),
    ],
)
def test_reps_are_written_in_five_ways(cell: str, targets: Targets | None):
    assert parse_targets(cell) == targets


@pytest.mark.parametrize(
    "cell", ["x", "8 x", "eight", "8-", "-8", "8,5", "8 reps", "8 sec", "each", "8 each leg", "3x8"]
)
def test_other_reps_are_refused(cell: str):
    with pytest.raises(CellRefused, match="is none of 8, 8 each, 30 s, 20 m, 12-10-8"):
        parse_targets(cell)


@pytest.mark.parametrize("cell", ["0", "12-0-8", "0 s"])
def test_a_plan_asks_for_at_least_one(cell: str):
    with pytest.raises(CellRefused, match="asks for less than one"):
        parse_targets(cell)


def test_a_log_may_tell_of_none():
    assert parse_reps_done("0") == Targets((0,), "", False)


def test_a_log_tells_one_set_a_row():
    with pytest.raises(CellRefused, match="is more than one set"):
        parse_reps_done("12-10-8")


@pytest.mark.parametrize(
    ("cell", "load"),
    [
        ("22.5", Load("mass", Decimal("22.5"))),
        ("22,5", Load("mass", Decimal("22.5"))),
        ("0", Load("mass", Decimal(0))),
        ("bw", Load("body")),
        ("BW", Load("body")),
        ("", Load("body")),
        ("band red", Load("band", band="red")),
        ("Band  extra heavy", Load("band", band="extra heavy")),
    ],
)
def test_a_load_is_a_mass_or_body_weight_or_a_band(cell: str, load: Load):
    assert parse_load(cell) == load


@pytest.mark.parametrize("cell", ["20 kg", "band", "body", "red band", "heavy", "20+5"])
def test_other_loads_are_refused(cell: str):
    with pytest.raises(CellRefused, match="is no number, bw or band NAME"):
        parse_load(cell)


@pytest.mark.parametrize(("cell", "reason"), [("-5", "is below zero"), ("100000", "is more than")])
def test_a_mass_that_nobody_lifts_is_refused(cell: str, reason: str):
    with pytest.raises(CellRefused, match=reason):
        parse_load(cell)


def test_grams_come_from_all_that_was_entered_and_what_is_shown_from_four_decimals():
    load = parse_load("22.04622622").in_unit("lb")

    assert (load.grams, load.entered) == (10_000, Decimal("22.0462"))


def test_only_a_mass_has_a_unit():
    assert parse_load("bw").in_unit("lb") == Load("body")


@given(st.text("0123456789-. ,smeachbwnd", max_size=14))
def test_any_text_is_read_or_refused(cell: str):
    for parse in (parse_targets, parse_reps_done, parse_load):
        with suppress(CellRefused):
            parse(cell)


@pytest.mark.parametrize("cell", ["8.0", "8,0", "8.00 each"])
def test_a_whole_number_of_reps_may_have_zeros_behind_it(cell: str):
    targets = parse_targets(cell)

    assert targets is not None
    assert targets.counts == (8,)
