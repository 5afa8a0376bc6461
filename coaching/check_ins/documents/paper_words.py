"""What a paper says, part by part, as plain data for whoever sets it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from coaching.check_ins.content import Figure, FigureKey, Found, Pack, PackWeek, Paper, Part, Period, PromiseLine
from coaching.check_ins.documents import colours
from coaching.check_ins.documents.cautions import CAUTIONS, FOOTER
from coaching.check_ins.documents.made_words import made_of, short_name
from coaching.check_ins.documents.mark_drawings import legend_of, week_drawing
from coaching.check_ins.documents.staircase_drawings import (
    course_text,
    met_text,
    staircase_drawing,
    staircase_legend,
)
from coaching.monitoring.e1rm_words import e1rm_explained
from coaching.monitoring.load_words import amount
from coaching.monitoring.plain_words import day_text, share_text

# As drawings; what is beyond them is told in a line each.
MOST_STAIRCASES = 12

Words = dict[str, Any]


def words_of(pack: Pack, paper: Paper) -> Words:
    is_mine = paper is Paper.MINE
    return {
        "colours": colours.ALL,
        "title": f"{pack.client_name}, {pack.period.title}: {'for the call' if is_mine else 'check-in'}",
        "studio": pack.studio_name,
        "coach": pack.coach_name,
        "client": pack.client_name,
        "period": pack.period.title,
        "days": days_text(pack.period),
        "beside": pack.before.title if pack.before else "",
        "up-to": long_day(pack.as_of) if pack.as_of < pack.period.last else "",
        "whose": "for the call, not for the client" if is_mine else "",
        "nothing": pack.nothing,
        "parts": [_part(pack, part, is_mine) for part in pack.parts_of(paper) if _is_told(pack, part)],
        "made": made_of(pack) if is_mine else [],
        "footer": FOOTER,
        "cautions": list(CAUTIONS),
    }


def _is_told(pack: Pack, part: Part) -> bool:
    return bool(getattr(pack, part.value)) or bool(pack.remarks.get(part, "").strip())


def _part(pack: Pack, part: Part, is_mine: bool) -> Words:
    content = _CONTENT[part](pack) if getattr(pack, part.value) else {}
    if not is_mine:
        # The strength that a set lets expect is the coach's to explain.
        content.pop("estimates", None)
    remark = [line.strip() for line in pack.remarks.get(part, "").splitlines() if line.strip()]
    return {"part": part.value, "title": part.title, "remark": remark, **content}


def _sentences(pack: Pack) -> Words:
    return {"lines": [sentence.text for sentence in pack.sentences]}


def _figures(pack: Pack) -> Words:
    main = [figure for figure in pack.figures if figure.key is not FigureKey.BEST_SETS]
    best = [figure for figure in pack.figures if figure.key is FigureKey.BEST_SETS]
    explained = e1rm_explained() if pack.tells_e1rm else ""
    return {"rows": list(map(_figure, main)), "best": list(map(_figure, best)), "explained": explained}


def _figure(figure: Figure) -> list[str]:
    return [short_name(figure), figure.now_text, figure.before_text, figure.change_text]


def _weeks(pack: Pack) -> Words:
    most = max((week.tonnage_kg or 0 for week in pack.weeks), default=0)
    rows = [_week(week, pack.unit, most) for week in pack.weeks]
    return {"rows": rows, "unit": pack.unit, "legend": legend_of(pack.weeks)}


def _week(week: PackWeek, unit: str, most: float) -> Words:
    return {
        "week": f"{week.week_start.day} {week.week_start:%b}",
        "block": _block_text(week),
        "marks": week_drawing(week),
        "sessions": f"{week.attended} of {week.due}" if week.due else "",
        "tonnage": "" if week.tonnage_kg is None else f"{amount(week.tonnage_kg, unit):,.0f}",
        "bar": (week.tonnage_kg or 0) / most if most else 0,
        "share": share_text(week.dose),
        "note": week.note,
    }


def _block_text(week: PackWeek) -> str:
    return week.block if week.block_week is None else f"{week.block}, week {week.block_week}"


def _staircases(pack: Pack) -> Words:
    span = pack.span
    return {
        "legend": staircase_legend(),
        "drawn": [
            {**staircase_drawing(one, span), "name": one.name, "latest": one.latest, "met": met_text(one)}
            for one in pack.staircases[:MOST_STAIRCASES]
        ],
        "estimates": [one.e1rm for one in pack.staircases[:MOST_STAIRCASES]],
        "told": [[one.name, course_text(one), met_text(one)] for one in pack.staircases[MOST_STAIRCASES:]],
    }


def _agreed(pack: Pack) -> Words:
    return {"rows": [[one.text, _promise_days(one)] for one in pack.agreed]}


def _promise_days(one: PromiseLine) -> str:
    due = f", by {day_text(one.due_on)}" if one.due_on else ""
    kept = "" if one.kept is None else "; kept" if one.kept else "; not kept"
    return f"{day_text(one.made_on)}{due}{kept}"


def _found(pack: Pack) -> Words:
    return {"rows": [[one.sentence, f"{one.urgency}, {_found_days(one)}", list(one.done)] for one in pack.found]}


def _found_days(one: Found) -> str:
    since = f"since {day_text(one.opened_on)}"
    return f"{since}, until {day_text(one.ended_on)}" if one.ended_on else since


def _contacts(pack: Pack) -> Words:
    return {"rows": [[f"{day_text(one.made_on)}, {one.how}", one.outcome] for one in pack.contacts]}


def _answers(pack: Pack) -> Words:
    return {"rows": [[one.question, one.text] for one in pack.answers]}


def _questions(pack: Pack) -> Words:
    return {"lines": list(pack.questions)}


_CONTENT: dict[Part, Callable[[Pack], Words]] = {
    Part.SENTENCES: _sentences,
    Part.FIGURES: _figures,
    Part.WEEKS: _weeks,
    Part.STAIRCASES: _staircases,
    Part.AGREED: _agreed,
    Part.FOUND: _found,
    Part.CONTACTS: _contacts,
    Part.ANSWERS: _answers,
    Part.QUESTIONS: _questions,
}


def days_text(period: Period) -> str:
    return f"{long_day(period.first)} to {long_day(period.last)}"


def long_day(day: date) -> str:
    return f"{day.day} {day:%B %Y}"
