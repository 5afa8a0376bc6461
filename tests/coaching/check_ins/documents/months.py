"""Packs made by hand: a month as it usually is, and those that are hard to set."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from coaching.check_ins.content import Change, Figure, FigureKey, Pack, PackWeek, Part, Phrase, PromiseLine, Sentence
from coaching.monitoring.session_marks import SessionMark
from coaching.monitoring.staircases import Dot, DotKind, Staircase
from tests.coaching.check_ins.packs import a_pack

EXERCISES = ("goblet squat", "split squat", "floor press", "one-arm row", "hip hinge", "suitcase carry")
MARKUP = '#evil[x] *b* $x$ <script>alert("x")</script> \\ &amp; _y_ @z'
MONDAYS = tuple(date(2026, 3, 2) + timedelta(weeks=week) for week in range(5))


def a_month(**changes: object) -> Pack:
    """Three sessions a week, six exercises, one step taken on each."""
    pack = a_pack(
        sentences=(
            _sentence("You came to 11 of 13 sessions, February had 10 of 12."),
            _sentence("Of what the plan asked, 87 % was done; February had 90 %, too little to tell apart."),
            _sentence("Four loads went up: the goblet squat from 16 to 18 kg on Tuesday 17 March."),
        ),
        figures=_figures(),
        weeks=_weeks(),
        staircases=tuple(a_staircase(name, number) for number, name in enumerate(EXERCISES)),
        agreed=(
            PromiseLine("We look at the knee on stairs together", date(2026, 3, 4), date(2026, 3, 27), True),
            PromiseLine("Sessions on Sunday evening instead of Monday", date(2026, 3, 4), None, None),
        ),
        questions=("How does the knee feel on stairs?", "Is Sunday evening still free?"),
    )
    return replace(pack, **changes)  # type: ignore[arg-type]


def an_empty_month() -> Pack:
    return a_month(
        nothing="Nothing was planned or done in March 2026.", before=None, sentences=(), figures=(), weeks=(),
        staircases=(), agreed=(), found=(), contacts=(), answers=(), questions=(), traces={},
    )  # fmt: skip


def forty_exercises() -> Pack:
    names = [f"{EXERCISES[number % 6]}, kind {number + 1}" for number in range(40)]
    best = tuple(_best_set(name) for name in names)
    figures = tuple(figure for figure in _figures() if figure.key is not FigureKey.BEST_SETS)
    stairs = tuple(a_staircase(name, number) for number, name in enumerate(names))
    return a_month(staircases=stairs, figures=(*figures[:-1], *best, figures[-1]))


def a_long_remark() -> Pack:
    words = "The knee was quiet on stairs this month, and the second session moved to Sunday. "
    remark = "\n\n".join(words * 10 for _ in range(6))
    return a_month(remarks={Part.FIGURES: remark + "x" * (5000 - len(remark) - 4) + " end"})


def named(name: str) -> Pack:
    """Whoever that is, everything that is said of them says the name too."""
    return a_month(
        client_name=name,
        coach_name=name,
        studio_name=name,
        sentences=(_sentence(f"{name} came."),),
        staircases=(a_staircase(name, 1),),
        questions=(f"How is {name}?",),
        remarks=dict.fromkeys(Part, f"{name}\n{name}"),
    )


def a_staircase(name: str, number: int) -> Staircase:
    """Five exposures: three met, one short, one heavier; in every second exercise one not logged and one lighter."""
    low, high = 10.0 + 2 * number, 12.0 + 2 * number
    kinds = [DotKind.MET, DotKind.MET, DotKind.SHORT, DotKind.HEAVIER, DotKind.MET]
    if number % 2:
        kinds[0], kinds[4] = DotKind.NOT_LOGGED, DotKind.LIGHTER
    dots = [
        _dot(monday + timedelta(days=1), kind, low if week < 2 else high)
        for week, (monday, kind) in enumerate(zip(MONDAYS, kinds, strict=True))
    ]
    steps = [(MONDAYS[0] + timedelta(days=1), low), (MONDAYS[2] + timedelta(days=1), high), (date(2026, 4, 5), high)]
    return Staircase(number, name, "kg", steps, dots, f"{high:g} kg", f"{high * 1.3:.1f} kg")


def _dot(day: date, kind: DotKind, asked: float) -> Dot:
    off = {DotKind.HEAVIER: 1.0, DotKind.LIGHTER: -1.0}.get(kind, 0.0)
    done = "nothing" if kind is DotKind.NOT_LOGGED else f"9-9-9-8 × {asked + off:g} kg"
    return Dot(day, day, asked + off, kind, f"4 × 9 at {asked:g} kg, rest 65 s", done, kind.value, asked * 1.3)


def _sentence(text: str) -> Sentence:
    return Sentence((Phrase(text, ("turnout",)),))


def _figures() -> tuple[Figure, ...]:
    share = "Session by session: the difference is -3 points, Welch’s 95 % interval -11 to +5, which holds zero."
    return (
        Figure(FigureKey.TURNOUT, "Turnout", "%", 11 / 13, 10 / 12, "11 of 13", "10 of 12", Change.TOO_LITTLE,
               "too little to tell", "Sessions attended of sessions due, by the day suggested for them."),
        Figure(FigureKey.COMPLETION, "Sets done of sets asked", "%", 0.93, 0.95, "93 %", "95 %", Change.TOO_LITTLE,
               "too little to tell", "The mean share of a session’s sets, over due sessions. " + share),
        Figure(FigureKey.DOSE, "Share of the plan done", "%", 0.8714, 0.9, "87 %", "90 %", Change.TOO_LITTLE,
               "too little to tell", "Planned tonnage that was lifted, of all that was planned. " + share),
        Figure(FigureKey.TONNAGE, "Tonnage", "kg", 18120.5, 17430.0, "18,120 kg", "17,430 kg", Change.NOT_JUDGED,
               "+690 kg", "Reps × load of all working sets. It falls at steps that are right: not judged."),
        Figure(FigureKey.DENSITY, "Density against the plan", "%", 0.97, None, "97 %", "", Change.UNKNOWN, "",
               "Tonnage a minute over the tonnage a minute that the plan asks for."),
        Figure(FigureKey.LOAD_STEPS, "Load steps taken", "", 4, 2, "4", "2", Change.MORE, "+2",
               "Loads asked for above the one before: goblet squat from 16 kg to 18 kg on Tue 17 Mar."),
        *(_best_set(name) for name in EXERCISES),
        Figure(FigureKey.SESSION_LOAD, "Session load", "", 1820.0, 1760.0, "1,820", "1,760", Change.NOT_JUDGED, "+60",
               "Effort × minutes of all sessions where both were given. It follows the plan: not judged."),
    )  # fmt: skip


def _best_set(name: str) -> Figure:
    made = "The set with the highest e1RM. On Tue 17 Mar, before on Tue 10 Feb. e1RM by Epley; told from 11.64 % on."
    return Figure(
        FigureKey.BEST_SETS, f"Best set: {name}", "kg", 24.3, 23.4, "9 × 18 kg (e1RM 24.3 kg)",
        "8 × 18 kg (e1RM 23.4 kg)", Change.TOO_LITTLE, "too little to tell", made,
    )  # fmt: skip


def _weeks() -> tuple[PackWeek, ...]:
    statuses = (("done", "done", "done"), ("done", "partial", "told"), ("done", "missed", "done"),
                ("done", "done", "overdue"), ("awaited", "to_come", "not_due"))  # fmt: skip
    tonnages = (4010.5, 3320.0, 2890.0, 4200.0, None)
    return tuple(_week(number, *one) for number, one in enumerate(zip(statuses, tonnages, strict=True)))


def _week(number: int, statuses: tuple[str, ...], tonnage_kg: float | None) -> PackWeek:
    marks = tuple(_mark(number, place, status) for place, status in enumerate(statuses))
    return PackWeek(
        week_start=MONDAYS[number],
        block="Block 5",
        block_week=number + 2,
        marks=marks,
        extras=(6,) if number == 1 else (),
        due=3 if number < 4 else 1,
        attended=sum(one in ("done", "partial", "told") for one in statuses),
        tonnage_kg=tonnage_kg,
        dose=None if tonnage_kg is None else min(1.0, tonnage_kg / 4100),
        note="away from Thursday" if number == 2 else "",
    )


def _mark(week: int, place: int, status: str) -> SessionMark:
    day = MONDAYS[week] + timedelta(days=2 * place)
    share = {"done": 1.0, "partial": 0.6}.get(status)
    return SessionMark(
        week_start=MONDAYS[week],
        block_week=week + 2,
        label="ABC"[place],
        suggested_on=day,
        status=status,
        set_completion=share,
        done_later=week == 3 and place == 1,
        performed_on=None if share is None else day,
        counted_sets=round(12 * (share or 0)),
        planned_sets=12,
    )
