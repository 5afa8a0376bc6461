"""A pack made by hand: a month of somebody at the Slow Iron Studio."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any
from uuid import UUID

from coaching.check_ins.content import (
    Answer,
    Change,
    ContactLine,
    Figure,
    FigureKey,
    Found,
    Pack,
    PackWeek,
    Part,
    Period,
    Phrase,
    PromiseLine,
    Sentence,
)
from coaching.monitoring.session_marks import SessionMark
from coaching.monitoring.staircases import Dot, DotKind, Staircase

MARCH = Period(date(2026, 3, 1), date(2026, 3, 31), "March 2026")
FEBRUARY = Period(date(2026, 2, 1), date(2026, 2, 28), "February 2026")
MONDAY = date(2026, 3, 2)
TURNOUT_SENTENCE = Sentence(
    (Phrase("You came to "), Phrase("9 of 12 sessions", ("turnout",)), Phrase(", February had "),
     Phrase("11 of 12", ("turnout",)), Phrase("."))
)  # fmt: skip
SQUAT_SENTENCE = Sentence(
    (Phrase("The goblet squat stands at "), Phrase("18 kg", ("best_set:goblet squat",)), Phrase("."))
)


def a_pack(**changes: Any) -> Pack:
    pack = Pack(
        client_id=UUID("5b8f6a52-95c5-4f0c-9d0e-3f6d8f3f7a11"),
        client_name="Ilse Brandt",
        studio_name="Slow Iron Studio",
        coach_name="Vera Roth",
        unit="kg",
        period=MARCH,
        before=FEBRUARY,
        as_of=MARCH.last,
        sentences=(TURNOUT_SENTENCE, SQUAT_SENTENCE),
        figures=(
            Figure(FigureKey.TURNOUT, "Turnout", "sessions", 0.75, 0.917, "9 of 12", "11 of 12", Change.TOO_LITTLE,
                   "too little to tell", "Sessions attended of sessions due; Wilson's interval is 47 to 91 %."),
            Figure(FigureKey.TONNAGE, "Tonnage", "kg", 8120.5, None, "8,120 kg", "", Change.UNKNOWN, "",
                   "Repetitions times load, over all working sets with a load."),
        ),
        weeks=(
            PackWeek(MONDAY, "Block 5", 2, (a_mark("done"), a_mark("missed")), (4,), 2, 1, 2010.0, 0.5, "away"),
        ),
        staircases=(a_staircase(),),
        agreed=(PromiseLine("Walk on Sundays", date(2026, 3, 4), None, None),),
        found=(
            Found("stall", "goblet squat", "watch", "Goblet squat: short twice at 18 kg.", date(2026, 3, 20), None,
                  ("seen on Mon 23 Mar: rang her",)),
        ),
        contacts=(ContactLine(date(2026, 3, 23), "call", "Slept badly, wants to go on."),),
        answers=(Answer("What went well?", "The squats."), Answer("What got in the way?", "")),
        questions=("How does the knee feel on stairs?",),
        traces={"best_set:goblet squat": "8 × 18 kg on Tue 17 Mar"},
    )  # fmt: skip
    return replace(pack, **changes)


def a_mark(status: str) -> SessionMark:
    performed = date(2026, 3, 3) if status == "done" else None
    return SessionMark(MONDAY, 2, "A", date(2026, 3, 3), status, 1.0 if performed else 0.0, False, performed, 12, 12)


def a_staircase() -> Staircase:
    return Staircase(
        exercise_id=7,
        name="goblet squat",
        unit="kg",
        steps=[(MONDAY, 16.0), (date(2026, 3, 16), 18.0), (date(2026, 3, 29), 18.0)],
        dots=[
            Dot(date(2026, 3, 3), date(2026, 3, 3), 16.0, DotKind.MET, "3 × 8 at 16 kg", "8-8-8 × 16 kg", "met", 20.3),
            Dot(date(2026, 3, 17), date(2026, 3, 17), 18.0, DotKind.SHORT, "3 × 8 at 18 kg", "8-7-6 × 18 kg",
                "fewer reps", 22.8),
        ],
        latest="18 kg",
        e1rm="23 kg",
    )  # fmt: skip


WITH_A_REMARK = {Part.FIGURES: "Away in the second week.\nNothing to worry about."}
