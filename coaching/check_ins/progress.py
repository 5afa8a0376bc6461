"""The second sentence: what moved. Load steps first, then the best set that rose by more than its error, then the
strongest one, the heaviest, the longest.
"""

from __future__ import annotations

from analytics.period_change import smallest_change_worth_believing
from coaching.check_ins.best_figures import relative_rise
from coaching.check_ins.content import FigureKey, Phrase, Sentence
from coaching.check_ins.figures import step_text
from coaching.check_ins.spans import BestSet
from coaching.check_ins.telling import Teller, joined, sentence_of
from coaching.check_ins.words import best_set_text, e1rm_in_unit
from coaching.monitoring.plain_words import counted, day_text

NAMED_STEPS = 3


def progress_sentence(teller: Teller) -> Sentence:
    span = teller.facts.now
    logs = span.figures["logs"]
    if not logs:
        return sentence_of(teller.traced("no sets were logged", "logs", "0 sessions logged"))
    if span.figures["tonnage_kg"] is None:
        return sentence_of(_without_details(teller, logs))
    rise = _greatest_rise(teller)
    if span.steps:
        return sentence_of(*_steps(teller), *([Phrase("; "), _rise_text(teller, rise)] if rise else []))
    if rise:
        return sentence_of(_no_step(), Phrase("; "), _rise_text(teller, rise))
    return sentence_of(*_best_of_all(teller))


def _without_details(teller: Teller, logs: int) -> Phrase:
    came = "the session logged" if logs == 1 else f"all {logs} sessions logged"
    told = counted(logs, "session")
    return teller.traced(f"{came} came without details: loads and sets are unknown", "logs", f"{told} logged")


def _no_step() -> Phrase:
    return Phrase("no load step was taken", (FigureKey.LOAD_STEPS,))


def _steps(teller: Teller) -> list[Phrase]:
    facts = teller.facts
    steps = facts.now.steps
    were = "was" if len(steps) == 1 else "were"
    start = Phrase(f"{counted(len(steps), 'load step')} {were} taken: ", (FigureKey.LOAD_STEPS,))
    named = []
    for step in steps[:NAMED_STEPS]:
        text = step_text(step, facts.names, facts.unit)
        named.append(teller.traced(text, f"load_step:{facts.names[step.exercise_id]}:{step.taken_on}", text))
    more = len(steps) - NAMED_STEPS
    rest = [teller.traced(f" and {more} more", "load_steps:more", f"{more} further load steps")] if more > 0 else []
    return [start, *joined(named, ", "), *rest]


def _greatest_rise(teller: Teller) -> tuple[BestSet, BestSet] | None:
    """Of the exercises whose best set rose by more than measurement error the one that rose most: now and before."""
    facts = teller.facts
    earlier = facts.earlier.best if facts.earlier else {}
    rises = []
    for place, exercise_id in enumerate(facts.exercises):
        now, before = facts.now.best.get(exercise_id), earlier.get(exercise_id)
        rise = relative_rise(now, before) if now and before else None
        if now and before and rise is not None and rise >= smallest_change_worth_believing():
            rises.append((rise, -place, now, before))
    return max(rises, key=lambda one: one[:2])[2:] if rises else None


def _rise_text(teller: Teller, rise: tuple[BestSet, BestSet]) -> Phrase:
    now, before = rise
    facts = teller.facts
    name = facts.names[now.exercise_id]
    texts = [best_set_text(best, facts.unit) for best in rise]
    text = f"the best set of {name} was {texts[0]}, on {day_text(now.performed_on)}, beside {texts[1]} before"
    estimates = " and ".join(f"{e1rm_in_unit(best, facts.unit)} {facts.unit}" for best in rise)
    on = f"{day_text(now.performed_on)} and {day_text(before.performed_on)}"
    return teller.traced(text, f"best_set:{name}", f"{name}: {texts[0]} and {texts[1]} on {on}, e1RM {estimates}")


def _best_of_all(teller: Teller) -> list[Phrase]:
    facts = teller.facts
    best = [facts.now.best[exercise_id] for exercise_id in facts.exercises if exercise_id in facts.now.best]
    loaded = [one for one in best if one.load_g is not None]
    if not best:
        return [teller.traced("nothing of the plan was logged set by set", "best_set", "no set of a planned exercise")]
    if not loaded:
        longest = max(best, key=lambda one: one.reps)
        return [_one_set(teller, "the most in one set was", longest)]
    estimated = [one for one in loaded if one.e1rm_kg is not None]
    # Of a set beyond the formula's range nobody knows whether it was the stronger one.
    if len(estimated) == len(loaded):
        strongest = max(estimated, key=lambda one: one.e1rm_kg or 0)
        return [_no_step(), Phrase("; "), _one_set(teller, "the set with the highest e1RM was", strongest)]
    heaviest = max(loaded, key=lambda one: one.load_g or 0)
    return [_no_step(), Phrase("; "), _one_set(teller, "of the best sets the heaviest was", heaviest)]


def _one_set(teller: Teller, start: str, best: BestSet) -> Phrase:
    facts = teller.facts
    name = facts.names[best.exercise_id]
    told = f"{best_set_text(best, facts.unit)} of {name}, on {day_text(best.performed_on)}"
    estimate = e1rm_in_unit(best, facts.unit)
    e1rm = "" if estimate is None else f", e1RM {estimate} {facts.unit}"
    return teller.traced(f"{start} {told}", f"best_set:{name}", f"{told}{e1rm}")
