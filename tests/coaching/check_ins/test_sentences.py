"""Laws of the sentences, over invented rosters and periods: every number is traced, nothing is praised or blamed."""

from __future__ import annotations

import re

import pytest

from coaching.check_ins.content import FigureKey, Pack, Phrase
from roster.people.models import Pause
from tests.coaching.check_ins.rosters import PERIODS, packs
from tests.coaching.monitoring.conftest import load_roster as load_roster

pytestmark = pytest.mark.django_db
NUMBER = re.compile(r"\d[\d,.]*\d|\d")
PRAISE_AND_BLAME = {
    "great", "good", "well", "nice", "excellent", "impressive", "strong", "proud", "congratulations", "bravo",
    "awesome", "amazing", "perfect", "keep", "up", "only", "just", "failed", "fail", "poor", "bad", "worse", "lazy",
    "should", "must", "missed", "skipped", "neglected", "unfortunately", "sadly", "despite", "behind", "disappointing",
    "weak", "decline", "however", "success", "progress", "effort",
}  # fmt: skip
NOT_THEIRS = {
    "pain", "hurt", "ill", "injury", "injured", "sick", "stall", "short", "silent", "quiet", "flag", "finding",
    "interval", "probability", "odds", "weight", "mass", "doctor", "medical",
}  # fmt: skip
VARIANTS = [
    {"seed": 502, "unit": "lb", "sends": "weekly"}, {"seed": 504, "sends": "block"},
    {"seed": 505, "sessions_a_week": 4, "labels": "none"},
]  # fmt: skip


@pytest.fixture(params=VARIANTS, ids=lambda variant: str(variant))
def all_packs(request, coach, load_roster) -> list[Pack]:
    options = dict(request.param)
    load_roster(options.pop("seed"), clients=6, weeks=12, **options)
    return [pack for period in PERIODS for pack in packs(coach, period)]


def traced_text(pack: Pack, phrase: Phrase) -> str:
    """Everything that stands behind the keys of a phrase."""
    found = [pack.traces[key] for key in phrase.figures if key in pack.traces]
    for figure in pack.figures:
        if figure.key in phrase.figures:
            found += [figure.now_text, figure.before_text, figure.change_text]
    return " ".join(found)


def words_of(pack: Pack) -> set[str]:
    """Those of its sentences, but the names of exercises, blocks and periods."""
    text = " ".join(sentence.text for sentence in pack.sentences)
    names = {" ".join(stairs.name.split()) for stairs in pack.staircases} | {week.block for week in pack.weeks}
    for name in sorted({*names, pack.period.title} - {""}, key=len, reverse=True):
        text = text.replace(name, "")
    return set(re.findall(r"[a-z]+", text.casefold()))


def test_every_number_stands_in_a_figure_or_a_trace_that_its_phrase_names(all_packs):
    checked = 0
    for pack in all_packs:
        for phrase in (phrase for sentence in pack.sentences for phrase in sentence.phrases):
            numbers = NUMBER.findall(phrase.text)
            traced = NUMBER.findall(traced_text(pack, phrase))
            assert set(numbers) <= set(traced), (phrase, traced)
            checked += len(numbers)
    assert checked > 50


def test_every_key_of_a_phrase_is_there(all_packs):
    for pack in all_packs:
        keys = {str(key) for key in FigureKey} | pack.traces.keys()
        for sentence in pack.sentences:
            assert {key for phrase in sentence.phrases for key in phrase.figures} <= keys


def test_there_are_three_sentences_or_a_reason_why_there_are_none(all_packs):
    for pack in all_packs:
        assert (len(pack.sentences) == 3) != bool(pack.nothing)
        for sentence in pack.sentences:
            assert re.fullmatch(r"[A-Z0-9].*[^ .]\.", sentence.text), sentence.text
            assert "  " not in sentence.text


def test_nobody_is_praised_or_blamed(all_packs):
    for pack in all_packs:
        assert not words_of(pack) & PRAISE_AND_BLAME


def test_no_finding_pain_or_reason_of_a_pause_stands_in_a_sentence(all_packs, coach):
    Pause.objects.update(reason=Pause.Reason.ILL)

    for pack in [*all_packs, *packs(coach)]:
        assert not words_of(pack) & NOT_THEIRS
        for found in pack.found:
            assert found.sentence not in " ".join(sentence.text for sentence in pack.sentences)


def test_other_facts_make_other_sentences(all_packs):
    told = [pack for pack in all_packs if not pack.nothing]

    third = {re.sub(NUMBER, "#", pack.sentences[2].text) for pack in told}
    assert len(third) > 2
