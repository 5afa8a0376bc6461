from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coaching.check_ins.content import Paper, Part
from coaching.check_ins.edits import (
    REMARK_LENGTH,
    SENTENCE_LENGTH,
    EditRefused,
    Edits,
    edited,
    edits_between,
    edits_of,
)
from tests.coaching.check_ins.packs import SQUAT_SENTENCE, TURNOUT_SENTENCE, a_pack

any_edits = st.builds(
    Edits,
    sentences=st.dictionaries(st.integers(0, 9), st.text(max_size=40), max_size=3),
    hidden=st.frozensets(st.sampled_from(Part)),
    remarks=st.dictionaries(st.sampled_from(Part), st.text(max_size=40)),
)


@given(any_edits)
def test_edits_are_kept_without_loss(edits: Edits) -> None:
    assert edits_of(json.loads(json.dumps(edits.as_json()))) == edits


@given(any_edits)
def test_whatever_is_edited_nothing_but_words_hidden_parts_and_remarks_changes(edits: Edits) -> None:
    pack, changed = a_pack(), edited(a_pack(), edits)

    assert changed.figures == pack.figures
    assert changed.weeks == pack.weeks
    assert changed.found == pack.found
    said = [edits.sentences.get(place, sentence.text) for place, sentence in enumerate(pack.sentences)]
    assert [sentence.text for sentence in changed.sentences] == [words for words in said if words]


def test_no_edit_leaves_a_pack_as_it_was() -> None:
    assert edited(a_pack(), Edits()) == a_pack()
    assert not Edits()


def test_a_phrase_that_stays_keeps_its_figures() -> None:
    edits = Edits(sentences={0: "It was 9 of 12 sessions, with the flu in between."})

    sentence = edited(a_pack(), edits).sentences[0]

    assert sentence.text == "It was 9 of 12 sessions, with the flu in between."
    assert [(phrase.text, phrase.figures) for phrase in sentence.phrases] == [
        ("It was ", ()),
        ("9 of 12 sessions", ("turnout",)),
        (", with the flu in between.", ()),
    ]


def test_words_of_ones_own_lead_to_no_figures() -> None:
    sentence = edited(a_pack(), Edits(sentences={1: "A month of two halves."})).sentences[1]

    assert [phrase.figures for phrase in sentence.phrases] == [()]


def test_a_sentence_without_words_is_left_out() -> None:
    assert edited(a_pack(), Edits(sentences={0: ""})).sentences == (SQUAT_SENTENCE,)


def test_a_hidden_part_stands_on_neither_paper() -> None:
    pack = edited(a_pack(), Edits(hidden=frozenset({Part.WEEKS})))

    assert all(Part.WEEKS not in pack.parts_of(paper) for paper in Paper)
    assert Part.FIGURES in pack.parts_of(Paper.THEIRS)


def test_words_that_stand_there_already_are_no_edit() -> None:
    words = {0: TURNOUT_SENTENCE.text, 1: SQUAT_SENTENCE.text, 9: "of no sentence"}

    assert not edits_between(a_pack(), words, frozenset(), {Part.WEEKS: ""})


def test_a_remark_may_have_5000_characters_and_no_more() -> None:
    longest = edited(a_pack(), Edits(remarks={Part.WEEKS: "x" * REMARK_LENGTH}))

    assert len(longest.remarks[Part.WEEKS]) == REMARK_LENGTH == 5_000
    with pytest.raises(EditRefused, match=r"5,000 characters"):
        Edits(remarks={Part.WEEKS: "x" * (REMARK_LENGTH + 1)})
    with pytest.raises(EditRefused, match=r"1,000 characters"):
        Edits(sentences={0: "x" * (SENTENCE_LENGTH + 1)})
