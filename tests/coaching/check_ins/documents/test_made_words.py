from __future__ import annotations

from dataclasses import replace

from coaching.check_ins.content import FigureKey, Part
from coaching.check_ins.documents.made_words import made_of
from tests.coaching.check_ins.documents import months


def test_each_figure_tells_how_it_was_made() -> None:
    pack = months.a_month()

    told = made_of(pack)

    assert [[one.name, one.made] for one in pack.figures if one.key is not FigureKey.BEST_SETS] == told[:-2]


def test_what_holds_for_all_best_sets_is_said_once_and_the_rest_by_name() -> None:
    hinge, carry = months.a_month().figures[-3:-1]
    other = replace(carry, made="The set with the highest e1RM. On Thu 19 Mar.")

    told = made_of(months.a_month(figures=(hinge, other), traces={}))

    assert told == [[
        "Best sets",
        "The set with the highest e1RM. hip hinge: on Tue 17 Mar, before on Tue 10 Feb. "
        "hip hinge: e1RM by Epley; told from 11.64 % on. suitcase carry: on Thu 19 Mar.",
    ]]  # fmt: skip


def test_what_sentences_say_beyond_the_table_comes_last() -> None:
    assert made_of(months.a_month())[-1] == ["Behind the words", "8 × 18 kg on Tue 17 Mar."]


def test_hidden_parts_tell_nothing_of_how_they_were_made() -> None:
    assert made_of(months.a_month(hidden=frozenset({Part.FIGURES, Part.SENTENCES}))) == []
