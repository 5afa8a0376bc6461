"""What a coach changes on a pack before giving it: words of sentences, parts that are hidden, remarks that are added.

Figures, weeks and staircases are hidden or shown, never rewritten. A phrase that stands in the new words as it stood
before still leads to its figures; words of the coach's own lead nowhere.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from coaching.check_ins.content import Pack, Part, Phrase, Sentence

SENTENCE_LENGTH = 1_000
REMARK_LENGTH = 5_000


class EditRefused(ValueError):
    """What was asked for goes beyond what a pack takes; the message says why, for the coach to read."""


@dataclass(frozen=True, slots=True)
class Edits:
    """New words by the place of the sentence (empty: left out), parts that are hidden, remarks by part."""

    sentences: Mapping[int, str] = field(default_factory=dict)
    hidden: frozenset[Part] = frozenset()
    remarks: Mapping[Part, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if any(len(words) > SENTENCE_LENGTH for words in self.sentences.values()):
            raise EditRefused(f"A sentence may have {SENTENCE_LENGTH:,} characters at most.")
        if any(len(words) > REMARK_LENGTH for words in self.remarks.values()):
            raise EditRefused(f"A remark may have {REMARK_LENGTH:,} characters at most.")

    def __bool__(self) -> bool:
        return bool(self.sentences or self.hidden or self.remarks)

    @property
    def carried_over(self) -> Edits:
        """What still fits when the pack is composed anew: its sentences are others then."""
        return replace(self, sentences={})

    def as_json(self) -> dict[str, Any]:
        return {
            "sentences": {str(place): words for place, words in sorted(self.sentences.items())},
            "hidden": sorted(self.hidden),
            "remarks": {part.value: words for part, words in sorted(self.remarks.items())},
        }


def edits_of(kept: Mapping[str, Any]) -> Edits:
    return Edits(
        sentences={int(place): words for place, words in kept["sentences"].items()},
        hidden=frozenset(map(Part, kept["hidden"])),
        remarks={Part(part): words for part, words in kept["remarks"].items()},
    )


def edits_between(
    pack: Pack, sentences: Mapping[int, str], hidden: frozenset[Part], remarks: Mapping[Part, str]
) -> Edits:
    """What is to be changed on the pack for it to say this; words that stand there already are no edit."""
    known = {place: words for place, words in sentences.items() if 0 <= place < len(pack.sentences)}
    return Edits(
        sentences={place: words for place, words in known.items() if words != pack.sentences[place].text.strip()},
        hidden=hidden,
        remarks={part: words for part, words in remarks.items() if words},
    )


def edited(pack: Pack, edits: Edits) -> Pack:
    words = [(edits.sentences.get(place), sentence) for place, sentence in enumerate(pack.sentences)]
    sentences = [sentence if new is None else _reworded(sentence, new) for new, sentence in words if new != ""]
    return replace(pack, sentences=tuple(sentences), hidden=edits.hidden, remarks=dict(edits.remarks))


def _reworded(sentence: Sentence, words: str) -> Sentence:
    return Sentence(tuple(_phrases_in(words, sentence)))


def _phrases_in(words: str, sentence: Sentence) -> Iterator[Phrase]:
    """The new words, with the traces of phrases that are found in them, in their order."""
    rest = words
    for phrase in sentence.phrases:
        kept = phrase.text.strip()
        before, found, after = rest.partition(kept) if phrase.figures and kept else (rest, "", "")
        if found:
            if before:
                yield Phrase(before)
            yield Phrase(kept, phrase.figures)
            rest = after
    if rest:
        yield Phrase(rest)
