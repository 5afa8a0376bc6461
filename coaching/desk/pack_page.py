"""A check-in pack as a page: its parts in order, words that lead to their figures, drawings that need no script."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.safestring import SafeString

from coaching.check_ins.content import Figure, FigureKey, Pack, PackWeek, Paper, Part, Phrase
from coaching.desk.chart_tables import Chart, staircase_chart
from coaching.desk.marks import week_strip
from coaching.desk.staircase_drawing import draw_staircase
from coaching.monitoring.e1rm_words import e1rm_explained
from coaching.monitoring.load_words import in_unit
from coaching.monitoring.plain_words import share_text


@dataclass(frozen=True, slots=True)
class Words:
    """A phrase: where it leads, and what its figures say."""

    text: str
    href: str = ""
    title: str = ""


@dataclass(frozen=True, slots=True)
class FigureRow:
    figure: Figure
    anchor: str


@dataclass(frozen=True, slots=True)
class Trace:
    """Something a phrase says that the table doesn't."""

    anchor: str
    name: str
    text: str


@dataclass(frozen=True, slots=True)
class Week:
    week: PackWeek
    strip: SafeString
    tonnage: str
    share: str

    @property
    def ends(self) -> date:
        return self.week.week_start + timedelta(days=6)


@dataclass(frozen=True, slots=True)
class Stairs:
    chart: Chart
    drawing: SafeString


@dataclass(frozen=True, slots=True)
class PartShown:
    """A part with its remark; `is_empty` where there is nothing of it to tell."""

    part: Part
    title: str
    remark: str
    is_hidden: bool
    is_empty: bool

    @property
    def template(self) -> str:
        return f"desk/pack/{self.part.value}.html"


@dataclass(frozen=True, slots=True)
class PackPage:
    pack: Pack
    parts: list[PartShown]
    sentences: list[list[Words]]
    figures: list[FigureRow]
    traces: list[Trace]
    weeks: list[Week]
    stairs: list[Stairs]
    # What e1RM is; empty where the word isn't there.
    explained: str


def build_pack_page(pack: Pack, paper: Paper, *, with_hidden: bool = False) -> PackPage:
    """`with_hidden` for whoever edits: parts that can be shown again."""
    shown = pack.parts_of(paper)
    anchors = {key: f"trace-{number}" for number, key in enumerate(_traced(pack), start=1)}
    parts = [part for part in Part if part in shown or (with_hidden and part in pack.hidden)]
    return PackPage(
        pack=pack,
        parts=[_part(pack, part) for part in parts],
        sentences=[[_words(pack, phrase, anchors) for phrase in one.phrases] for one in pack.sentences],
        figures=list(_figure_rows(pack)),
        traces=[Trace(anchor, key.partition(":")[2] or key, pack.traces[key]) for key, anchor in anchors.items()],
        weeks=[_week(week, pack.unit) for week in pack.weeks],
        stairs=list(_stairs(pack)),
        explained=e1rm_explained() if pack.tells_e1rm else "",
    )


def _figure_rows(pack: Pack) -> Iterator[FigureRow]:
    """Several rows may tell the same of different exercises: words lead to the first of them."""
    rows: Counter[FigureKey] = Counter()
    for figure in pack.figures:
        rows[figure.key] += 1
        more = f"-{rows[figure.key]}" if rows[figure.key] > 1 else ""
        yield FigureRow(figure, f"figure-{figure.key.value}{more}")


def _traced(pack: Pack) -> list[str]:
    """The keys of traces that sentences name, in their order."""
    named = (key for one in pack.sentences for phrase in one.phrases for key in phrase.figures)
    return list(dict.fromkeys(key for key in named if key in pack.traces))


def _part(pack: Pack, part: Part) -> PartShown:
    content: Sequence[object] = getattr(pack, part.value)
    return PartShown(part, part.title, pack.remarks.get(part, ""), part in pack.hidden, not content)


def _words(pack: Pack, phrase: Phrase, anchors: dict[str, str]) -> Words:
    by_key = {figure.key.value: figure for figure in reversed(pack.figures)}
    titles, hrefs = [], []
    for key in phrase.figures:
        if key in by_key:
            titles.append(_figure_words(by_key[key]))
            hrefs += [f"#figure-{key}"] if Part.FIGURES not in pack.hidden else []
        elif key in anchors:
            titles.append(pack.traces[key])
            hrefs.append(f"#{anchors[key]}")
    return Words(phrase.text, hrefs[0] if hrefs else "", "; ".join(titles))


def _figure_words(figure: Figure) -> str:
    before = f", before {figure.before_text}" if figure.before_text else ""
    return f"{figure.name}: {figure.now_text or 'unknown'}{before}"


def _week(week: PackWeek, unit: str) -> Week:
    tonnage = "" if week.tonnage_kg is None else f"{in_unit(round(1000 * week.tonnage_kg), unit):,.0f} {unit}"
    return Week(week, week_strip(week.marks, week.extras), tonnage, share_text(week.dose))


def _stairs(pack: Pack) -> Iterator[Stairs]:
    span = pack.span
    for staircase in pack.staircases:
        yield Stairs(staircase_chart(staircase), draw_staircase(staircase, span))
