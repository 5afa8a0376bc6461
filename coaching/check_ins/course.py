"""The third sentence: what the time was like. Joining, pauses, weeks without a session, sessions told, beside the plan
or done later; where there is nothing of the kind, how steady the weeks were and what was lifted in all.
"""

from __future__ import annotations

from datetime import date

from coaching.check_ins.content import FigureKey, Phrase, Sentence
from coaching.check_ins.telling import Teller, joined, sentence_of
from coaching.check_ins.weeks import pause_word
from coaching.check_ins.words import days_text, in_a_row
from coaching.monitoring.load_words import amount
from coaching.monitoring.plain_words import counted, day_text

MOST_PARTS = 3
NAMED_WEEKS = 4


def course_sentence(teller: Teller) -> Sentence:
    tellers = (_joining, _pauses, _weeks_without, _told, _extras, _later)
    parts = [phrase for tell in tellers for phrase in tell(teller)][:MOST_PARTS]
    return sentence_of(*joined(parts or _steady(teller)))


def _joining(teller: Teller) -> list[Phrase]:
    joined_on = teller.facts.client.joined_on
    if not teller.facts.period.first < joined_on <= teller.facts.period.last:
        return []
    return [teller.traced(f"joined on {day_text(joined_on)}", "joined", f"joined on {day_text(joined_on)}")]


def _pauses(teller: Teller) -> list[Phrase]:
    period = teller.facts.period
    told = []
    for first, last, word in _stretches(teller):
        if (first, last) == (period.first, period.last):
            told.append(teller.traced(f"{word} all the time", "pause", f"{word} {days_text(first, last)}"))
        else:
            text = f"{word} {days_text(first, last)}"
            told.append(teller.traced(text, f"pause:{first}", text))
    return told


def _stretches(teller: Teller) -> list[tuple[date, date, str]]:
    """Pauses within the period; those that overlap or touch as one."""
    period = teller.facts.period
    found: list[tuple[date, date, str]] = []
    for pause in sorted(teller.facts.pauses, key=lambda pause: (pause.from_on, pause.until_on)):
        first, last = max(pause.from_on, period.first), min(pause.until_on, period.last)
        word = pause_word([pause])
        if found and first.toordinal() <= found[-1][1].toordinal() + 1:
            started, ended, earlier_word = found.pop()
            first, last, word = started, max(ended, last), word if word == earlier_word else "paused"
        found.append((first, last, word))
    return found


def _weeks_without(teller: Teller) -> list[Phrase]:
    mondays = teller.facts.weeks_without_a_session()
    if not mondays:
        return []
    days = [f"{monday.day} {monday:%b}" for monday in mondays]
    trace = f"whole weeks with something due and no log: {', '.join(days)}"
    if len(mondays) > NAMED_WEEKS:
        trace += f" ({len(mondays)})"
        return [teller.traced(f"in {len(mondays)} weeks nothing was logged", "weeks_without", trace)]
    weeks = "week" if len(mondays) == 1 else "weeks"
    return [teller.traced(f"nothing logged in the {weeks} of {in_a_row(days)}", "weeks_without", trace)]


def _told(teller: Teller) -> list[Phrase]:
    figures = teller.facts.now.figures
    # Where all came so, the sentence before has said it.
    if not figures["told"] or figures["tonnage_kg"] is None:
        return []
    told = counted(figures["told"], "session")
    return [teller.traced(f"{told} came without details", "told", f"{told} told without details")]


def _extras(teller: Teller) -> list[Phrase]:
    extras = sum(len(week.extras) for week in teller.facts.weeks)
    if not extras:
        return []
    text = f"{counted(extras, 'session')} {'was' if extras == 1 else 'were'} done beside the plan"
    return [teller.traced(text, "extras", text)]


def _later(teller: Teller) -> list[Phrase]:
    later = teller.facts.now.figures["done_later"]
    if not later:
        return []
    text = f"{counted(later, 'session')} {'was' if later == 1 else 'were'} done after its week"
    text = text if later == 1 else text.replace("its week", "their week")
    return [teller.traced(text, "done_later", text)]


def _steady(teller: Teller) -> list[Phrase]:
    """Every whole week that had something due had a session."""
    facts = teller.facts
    kilograms = facts.now.figures["tonnage_kg"]
    weeks = len(facts.whole_weeks())
    parts = []
    if weeks > 1:
        text = f"each of the {weeks} whole weeks had a session"
        parts.append(teller.traced(text, "weeks", f"{weeks} whole weeks with something due, none without a log"))
    if kilograms:
        lifted = f"{amount(kilograms, facts.unit):,.0f} {facts.unit}"
        parts.append(Phrase(f"in all {lifted} were lifted", (FigureKey.TONNAGE,)))
    if not parts:
        logged = counted(facts.now.figures["logs"], "session")
        parts.append(teller.traced(f"{logged} in all", "logs", f"{logged} logged"))
    return parts
