"""Pieces of sentences with what they say: every number in a phrase stands in a figure or in a trace that it names."""

from __future__ import annotations

from coaching.check_ins.content import Period, Phrase, Sentence
from coaching.check_ins.facts import PackFacts
from coaching.check_ins.periods import is_month, range_text


class Teller:
    """Gathers the traces of a pack's sentences while they are put together."""

    def __init__(self, facts: PackFacts) -> None:
        self.facts = facts
        self.traces: dict[str, str] = {}

    def traced(self, text: str, key: str, trace: str) -> Phrase:
        """A phrase that says more than the table does."""
        self.traces[key] = trace
        return Phrase(text, (key,))

    def within(self, key: str, period: Period) -> Phrase:
        """Such as " in March 2026", " in Block 5", " from 3 to 17 March 2026", " on 3 March 2026"."""
        days = range_text(period.first, period.last)
        told = period.title if is_month(period) or period.title != days else ""
        preposition = "in" if told else "on" if period.first == period.last else "from"
        trace = f"{told}: {days}" if told else days
        return self.traced(f" {preposition} {told or days}", key, trace)


def sentence_of(*phrases: Phrase) -> Sentence:
    """Begun with a capital, ended with a full stop."""
    first, *others = phrases
    capital = Phrase(first.text[:1].upper() + first.text[1:], first.figures)
    return Sentence((capital, *others, Phrase(".")))


def joined(parts: list[Phrase], between: str = "; ") -> list[Phrase]:
    found: list[Phrase] = []
    for part in parts:
        found += [Phrase(between), part] if found else [part]
    return found
