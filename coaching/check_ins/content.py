"""What a check-in pack says: plain values, made once, and drawn alike as page, PDF, workbook and table.

Whoever draws a pack places what stands here and works nothing out: texts are ready, numbers are beside them for whoever
counts on.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from enum import StrEnum
from uuid import UUID

from analytics.iso_weeks import monday_of
from coaching.monitoring.chart_span import Span
from coaching.monitoring.session_marks import SessionMark
from coaching.monitoring.staircases import Staircase


class Paper(StrEnum):
    """Whom a paper is for: the client keeps theirs, the coach works from hers."""

    THEIRS = "theirs"
    MINE = "mine"


class Part(StrEnum):
    """The parts of a pack, in the order in which they stand."""

    SENTENCES = "sentences"
    FIGURES = "figures"
    WEEKS = "weeks"
    STAIRCASES = "staircases"
    AGREED = "agreed"
    FOUND = "found"
    CONTACTS = "contacts"
    ANSWERS = "answers"
    QUESTIONS = "questions"

    @property
    def title(self) -> str:
        return _TITLES[self]


_TITLES = {
    Part.SENTENCES: "In short",
    Part.FIGURES: "Figures",
    Part.WEEKS: "Week by week",
    Part.STAIRCASES: "Staircases",
    Part.AGREED: "What we agreed",
    Part.FOUND: "What was found, and what was done",
    Part.CONTACTS: "Contacts",
    Part.ANSWERS: "Three questions",
    Part.QUESTIONS: "To ask",
}

# Safe to keep and to send: no findings, odds, inner notes or body mass.
PARTS_OF_THEIRS = frozenset({Part.SENTENCES, Part.FIGURES, Part.WEEKS, Part.STAIRCASES, Part.AGREED})


@dataclass(frozen=True, slots=True)
class Period:
    """From `first` to `last`, both included; the title is such as "March 2026", "Block 5", "3 to 17 March 2026"."""

    first: date
    last: date
    title: str


class FigureKey(StrEnum):
    """What the table tells, in its order."""

    TURNOUT = "turnout"
    COMPLETION = "completion"
    DOSE = "dose"
    TONNAGE = "tonnage"
    DENSITY = "density"
    LOAD_STEPS = "load_steps"
    BEST_SETS = "best_sets"
    SESSION_LOAD = "session_load"


class Change(StrEnum):
    """What may be said of this period beside the one before; the value is how it is told."""

    MORE = "more"
    LESS = "less"
    SAME = "the same"
    TOO_LITTLE = "too little to tell"
    # Tonnage and session load fall at steps that are correct progress, load steps follow the plan: shown, never judged.
    NOT_JUDGED = "not judged"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Figure:
    """One row of the table; a number is None, and its text empty, where it is unknown. BEST_SETS has a row for each
    exercise: its name is in `name`, its numbers are e1RM.
    """

    key: FigureKey
    name: str
    # "%" of a share, whose numbers are from 0 to 1; kg or lb; empty for counts.
    unit: str
    now: float | None
    before: float | None
    now_text: str
    before_text: str
    change: Change
    # Such as "+2", "too little to tell", "9 of 12 beside 11 of 12".
    change_text: str
    # How it was made, with its bounds; for the coach's paper and for whoever asks on the page.
    made: str


@dataclass(frozen=True, slots=True)
class Phrase:
    """A piece of a sentence and the figures that it says, by the keys of the table or of `Pack.traces`."""

    text: str
    figures: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Sentence:
    phrases: tuple[Phrase, ...]

    @property
    def text(self) -> str:
        return "".join(phrase.text for phrase in self.phrases)


@dataclass(frozen=True, slots=True)
class PackWeek:
    """A week with something planned or done in it; `note` is such as "away" for days in a pause."""

    week_start: date
    block: str
    block_week: int | None
    marks: tuple[SessionMark, ...]
    # Sets of each extra session.
    extras: tuple[int, ...]
    due: int
    attended: int
    tonnage_kg: float | None
    dose: float | None
    note: str


@dataclass(frozen=True, slots=True)
class Found:
    """A finding that stood in the period, and what was done about it: "seen on Tue 3 Mar: rang her"."""

    kind: str
    subject: str
    urgency: str
    sentence: str
    opened_on: date
    ended_on: date | None
    done: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ContactLine:
    made_on: date
    how: str
    outcome: str


@dataclass(frozen=True, slots=True)
class PromiseLine:
    text: str
    made_on: date
    due_on: date | None
    kept: bool | None


@dataclass(frozen=True, slots=True)
class Answer:
    """One of the three questions of a check-in; empty where nobody has answered yet."""

    question: str
    text: str


@dataclass(frozen=True, slots=True)
class Pack:
    """Everything of both papers; `parts_of` says what stands on which."""

    client_id: UUID
    client_name: str
    studio_name: str
    coach_name: str
    # kg or lb, the client's.
    unit: str
    period: Period
    # None where nothing was planned or done before.
    before: Period | None
    # The day up to which logs were read: the first on which no session of the period is waited for, or today before it.
    as_of: date
    sentences: tuple[Sentence, ...]
    figures: tuple[Figure, ...]
    weeks: tuple[PackWeek, ...]
    staircases: tuple[Staircase, ...]
    agreed: tuple[PromiseLine, ...]
    found: tuple[Found, ...]
    contacts: tuple[ContactLine, ...]
    answers: tuple[Answer, ...]
    questions: tuple[str, ...]
    # What a phrase says beyond the table, by its key: such as {"best_set:goblet squat": "9 × 18 kg on Tue 3 Mar"}.
    traces: Mapping[str, str] = field(default_factory=dict)
    # Where there is nothing to tell, why: such as "Joined on 12 March 2026, after this period."
    nothing: str = ""
    hidden: frozenset[Part] = frozenset()
    # The coach's own words under a part, on both papers.
    remarks: Mapping[Part, str] = field(default_factory=dict)

    @property
    def tells_e1rm(self) -> bool:
        """Whether a word stands in its figures that not everybody knows."""
        return any(
            figure.key is FigureKey.BEST_SETS and (figure.now, figure.before) != (None, None) for figure in self.figures
        )

    @property
    def span(self) -> Span:
        """Whole weeks that hold the period and everything on its staircases: one time for all of them."""
        days = [self.period.first, self.period.last]
        for staircase in self.staircases:
            days += [day for day, _ in staircase.steps] + [dot.suggested_on for dot in staircase.dots]
        return Span(monday_of(min(days)), monday_of(max(days)) + timedelta(days=6))

    def parts_of(self, paper: Paper) -> list[Part]:
        """What a paper shows, hidden parts left out."""
        of_paper = PARTS_OF_THEIRS if paper is Paper.THEIRS else frozenset(Part)
        return [part for part in Part if part in of_paper and part not in self.hidden]
