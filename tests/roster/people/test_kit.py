"""Kit as a coach writes it."""

from __future__ import annotations

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roster.people.kit import KitRefused, parse_kit


def _loads(words: str, unit: str = "kg") -> list[float]:
    return [grams / 1000 for grams in parse_kit(words, unit)[0].loads_g]


def test_implements_are_between_semicolons_and_loads_between_commas():
    dumbbell, kettlebell = parse_kit("dumbbell: 2-20/2; kettlebell: 8, 12, 16", "kg")

    assert (dumbbell.implement, dumbbell.loads_entered) == ("dumbbell", "2-20/2")
    assert dumbbell.loads_g == tuple(range(2_000, 20_001, 2_000))
    assert (kettlebell.implement, kettlebell.loads_g) == ("kettlebell", (8_000, 12_000, 16_000))


@pytest.mark.parametrize(
    ("loads", "kilograms"),
    [
        ("12", [12]),
        ("16, 8, 12", [8, 12, 16]),
        ("8, 8", [8]),
        ("2.5-10/2.5", [2.5, 5, 7.5, 10]),
        ("4-12/4, 20", [4, 8, 12, 20]),
        ("2 - 6 / 2", [2, 4, 6]),
    ],
)
def test_loads_are_in_ascending_order_each_once(loads: str, kilograms: list[float]):
    assert _loads(f"dumbbell: {loads}") == kilograms


def test_a_range_may_stop_below_its_end():
    assert _loads("dumbbell: 2-21/4") == [2, 6, 10, 14, 18]


def test_pounds_become_grams_at_once():
    assert parse_kit("dumbbell: 5, 10", "lb")[0].loads_g == (2_268, 4_536)


@pytest.mark.parametrize(
    ("loads", "kilograms"),
    [
        ("2,5-10/2,5", [2.5, 5, 7.5, 10]),
        ("2,5, 5, 7,5", [2.5, 5, 7.5]),
        ("8,12,16", [8, 12, 16]),
    ],
)
def test_a_comma_between_digits_is_read_in_the_one_way_that_makes_sense(loads: str, kilograms: list[float]):
    assert _loads(f"dumbbell: {loads}") == kilograms


def test_a_comma_that_may_be_read_in_two_ways_is_refused():
    with pytest.raises(KitRefused, match="“8,12” may be one load or two"):
        parse_kit("kettlebell: 8,12", "kg")


@pytest.mark.parametrize(
    ("words", "word"),
    [
        ("dumbbell: 2-20/2; kettlebell: 8, twelve, 16", "twelve"),
        ("dumbbell: 2-20", "2-20"),
        ("dumbbell: 20-2/2", "20-2/2"),
        ("dumbbell: 2-20/0", "2-20/0"),
        ("dumbbell: 0, 2", "0"),
        ("dumbbell: 8 kg", "8 kg"),
        ("dumbbell: -8", "-8"),
        ("dumbbell: 1-20000/1", "1-20000/1"),
        ("dumbbell 8", "dumbbell 8"),
        (": 8", ": 8"),
        ("dumbbell:", "dumbbell:"),
        ("Dumbbell: 8; dumbbell : 10", "dumbbell"),
    ],
)
def test_kit_is_refused_at_the_word_that_is_wrong(words: str, word: str):
    with pytest.raises(KitRefused) as refused:
        parse_kit(words, "kg")

    assert refused.value.word == word


def test_no_words_are_no_kit():
    assert parse_kit(" ; ", "kg") == ()


@given(st.text("0123456789,.-/;: abx", max_size=30), st.sampled_from(["kg", "lb"]))
def test_any_words_are_kit_with_ascending_loads_or_refused(words: str, unit: str):
    with suppress(KitRefused):
        entries = parse_kit(words, unit)

        assert all(entry.loads_g and list(entry.loads_g) == sorted(set(entry.loads_g)) for entry in entries)
        assert all(grams > 0 for entry in entries for grams in entry.loads_g)
