"""The table of a pack: each figure of this period and of the one before, and what may be said of the change.

Where noise covers a difference the table says "too little to tell": of turnout by Newcombe's interval of two shares,
of the shares of the plan by the spread of their sessions. Tonnage and session load, which fall at steps that are
correct progress, and load steps, on which the plan decides, are shown and never judged.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from analytics.period_change import Difference, difference_of_means, difference_of_shares, wilson_interval
from coaching.check_ins.best_figures import best_set_figures
from coaching.check_ins.content import Change, Figure, FigureKey
from coaching.check_ins.spans import LoadStep, SpanOfClient
from coaching.monitoring.load_words import amount
from coaching.monitoring.plain_words import day_text, mass_text, number_text, share_text


@dataclass(frozen=True)
class TwoSpans:
    """What figures are made of; `before` is None where there is nothing before."""

    now: SpanOfClient
    before: SpanOfClient | None
    unit: str
    names: Mapping[int, str]
    # Exercises as they stand in the pack.
    exercises: tuple[int, ...]


def build_figures(spans: TwoSpans) -> tuple[Figure, ...]:
    return (
        _turnout(spans),
        _share(spans, FigureKey.COMPLETION, "Sets done of sets asked", "completion", _COMPLETION_MADE),
        _share(spans, FigureKey.DOSE, "Share of the plan done", "dose", _DOSE_MADE),
        _tonnage(spans),
        _share(spans, FigureKey.DENSITY, "Density against the plan", "density", _DENSITY_MADE),
        _load_steps(spans),
        *best_set_figures(spans.now.best, spans.before and spans.before.best, spans.exercises, spans.names, spans.unit),
        _session_load(spans),
    )


_COMPLETION_MADE = (
    "The mean share of a session’s sets, over due sessions but those told without details; one missed counts as 0."
)
_DOSE_MADE = (
    "Planned tonnage that was lifted, at most what was asked of each exercise, of all that was planned; over due "
    "sessions but those told without details."
)
_DENSITY_MADE = (
    "Tonnage a minute over the tonnage a minute that the plan asks for, of sessions whose minutes and rests are known."
)


def density_against_plan(figures: Mapping[str, float]) -> float | None:
    """A ratio of sums; unknown without minutes, or without tonnage to compare with."""
    if not (figures["timed_minutes"] and figures["timed_planned_minutes"] and figures["timed_planned_g"]):
        return None
    lifted = figures["timed_g"] / figures["timed_minutes"]
    return lifted / (figures["timed_planned_g"] / figures["timed_planned_minutes"])


def _turnout(spans: TwoSpans) -> Figure:
    now, before = (_attended_and_due(span) for span in (spans.now, spans.before))
    difference = difference_of_shares(now, before)
    made = f"Sessions attended of sessions due, by the day suggested for them. {_with_interval('Now', now)}"
    if before[1]:
        interval = _interval_text(difference, "Newcombe’s 95 % interval")
        made += f" {_with_interval('Before', before)} Beside it {interval}"
    is_same = bool(now[1] and before[1]) and now[0] * before[1] == before[0] * now[1]
    change = _change_of(difference, is_same) if now[1] and before[1] else Change.UNKNOWN
    return Figure(
        key=FigureKey.TURNOUT,
        name="Turnout",
        unit="%",
        now=now[0] / now[1] if now[1] else None,
        before=before[0] / before[1] if before[1] else None,
        now_text=_of_text(now),
        before_text=_of_text(before),
        change=change,
        change_text="" if change is Change.UNKNOWN else _points_text(change, difference.amount),
        made=made,
    )


def _attended_and_due(span: SpanOfClient | None) -> tuple[int, int]:
    return (span.figures["attended"], span.figures["due"]) if span else (0, 0)


def _of_text(counts: tuple[int, int]) -> str:
    return f"{counts[0]} of {counts[1]}" if counts[1] else ""


def _with_interval(when: str, counts: tuple[int, int]) -> str:
    if not counts[1]:
        return f"{when}: nothing due."
    low, high = wilson_interval(*counts)
    return f"{when} {_of_text(counts)}, Wilson’s 95 % interval {100 * low:.0f} to {100 * high:.0f} %."


def _interval_text(difference: Difference, name: str) -> str:
    if difference.amount != difference.amount:
        return "too few sessions to compare."
    amount, low, high = (_points(share) for share in (difference.amount, difference.low, difference.high))
    holds = "clear of" if difference.is_clear else "which holds"
    return f"the difference is {amount} points, {name} {low} to {high}, {holds} zero."


def _change_of(difference: Difference, is_same: bool) -> Change:
    if difference.is_clear:
        return Change.MORE if difference.amount > 0 else Change.LESS
    return Change.SAME if is_same else Change.TOO_LITTLE


def _points_text(change: Change, share: float) -> str:
    return f"{_points(share)} points" if change in (Change.MORE, Change.LESS) else change.value


def _points(share: float) -> str:
    """Per cent with their sign, such as "+8", "-12"; zero has none."""
    points = round(100 * share)
    return f"{points:+d}" if points else "0"


def _level(span: SpanOfClient | None, name: str) -> float | None:
    if span is None:
        return None
    return density_against_plan(span.figures) if name == "density" else span.figures[name]


def _share(spans: TwoSpans, key: FigureKey, name: str, column: str, made: str) -> Figure:
    now, before = _level(spans.now, column), _level(spans.before, column)
    change, change_text, compared = Change.UNKNOWN, "", ""
    if spans.before is not None and now is not None and before is not None:
        difference = difference_of_means(spans.now.shares[column], spans.before.shares[column])
        change = _change_of(difference, share_text(now) == share_text(before))
        # Levels weigh sessions by what they asked: where they went the other way, nothing is told.
        if change in (Change.MORE, Change.LESS) and (now - before) * difference.amount <= 0:
            change = Change.TOO_LITTLE
        change_text = _points_text(change, now - before)
        compared = f" Session by session: {_interval_text(difference, 'Welch’s 95 % interval')}"
    return Figure(
        key=key, name=name, unit="%", now=now, before=before, now_text=share_text(now), before_text=share_text(before),
        change=change, change_text=change_text, made=made + compared,
    )  # fmt: skip


def _tonnage(spans: TwoSpans) -> Figure:
    def in_unit(span: SpanOfClient | None) -> float | None:
        kilograms = span.figures["tonnage_kg"] if span else None
        return None if kilograms is None else amount(kilograms, spans.unit)

    made = (
        "Reps × load × implements × sides of all working sets with a load. It falls at steps that are right: not "
        "judged."
    )
    return _not_judged(spans, FigureKey.TONNAGE, "Tonnage", spans.unit, in_unit, made)


def _session_load(spans: TwoSpans) -> Figure:
    def load(span: SpanOfClient | None) -> float | None:
        return span.figures["session_load"] if span else None

    made = "Effort × minutes of all sessions where both were given. It follows the plan: not judged."
    return _not_judged(spans, FigureKey.SESSION_LOAD, "Session load", "", load, made)


def _not_judged(
    spans: TwoSpans,
    key: FigureKey,
    name: str,
    unit: str,
    value: Callable[[SpanOfClient | None], float | None],
    made: str,
) -> Figure:
    now, before = value(spans.now), value(spans.before)
    known = now is not None and before is not None
    return Figure(
        key=key, name=name, unit=unit, now=now, before=before,
        now_text=_amount_text(now, unit), before_text=_amount_text(before, unit),
        change=Change.NOT_JUDGED if known else Change.UNKNOWN,
        change_text=f"{now - before:+,.0f} {unit}".strip() if now is not None and before is not None else "",
        made=made,
    )  # fmt: skip


def _amount_text(value: float | None, unit: str) -> str:
    return "" if value is None else f"{value:,.0f} {unit}".strip()


def _load_steps(spans: TwoSpans) -> Figure:
    now, before = _steps_of(spans.now), _steps_of(spans.before)
    change, change_text = Change.UNKNOWN, ""
    if now is not None and before is not None:
        change = Change.SAME if now == before else Change.NOT_JUDGED
        change_text = change.value if now == before else f"{now - before:+d}"
    listed = "; ".join(step_text(step, spans.names, spans.unit) for step in spans.now.steps) or "none"
    return Figure(
        key=FigureKey.LOAD_STEPS, name="Load steps taken", unit="", now=now, before=before,
        now_text="" if now is None else number_text(now), before_text="" if before is None else number_text(before),
        change=change, change_text=change_text,
        made=(
            f"Loads asked for above the one before, by the day on which they were first lifted: {listed}. The first "
            "week back after a long break does not count. The plan decides how many there are: not judged."
        ),
    )  # fmt: skip


def _steps_of(span: SpanOfClient | None) -> int | None:
    """Unknown where no session has details."""
    if span is None or span.figures["tonnage_kg"] is None:
        return None
    return len(span.steps)


def step_text(step: LoadStep, names: Mapping[int, str], unit: str) -> str:
    """Such as "goblet squat from 18 kg to 20 kg on Tue 3 Mar"."""
    loads = f"from {mass_text(step.from_load_g, unit)} to {mass_text(step.to_load_g, unit)}"
    return f"{names[step.exercise_id]} {loads} on {day_text(step.taken_on)}"
