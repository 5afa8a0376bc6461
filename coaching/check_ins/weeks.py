"""The weeks of a pack as marks, cut where the period begins and ends."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from analytics.assessment import Assessment
from analytics.frame_schema import Standing
from analytics.iso_weeks import monday_of
from analytics.span_figures import Spans
from analytics.training_weeks import to_date
from coaching.check_ins.content import PackWeek, Period
from coaching.check_ins.reads import PlannedSessionWords
from coaching.check_ins.spans import SpanOfClient
from coaching.monitoring.fact_columns import STATUSES, to_date_cached
from coaching.monitoring.session_marks import SessionMark
from roster.people.models import Pause


@dataclass
class MarksOfClient:
    """By Monday."""

    marks: dict[date, list[SessionMark]] = field(default_factory=lambda: defaultdict(list))
    blocks: dict[date, tuple[str, int]] = field(default_factory=dict)
    # Sets of each extra session.
    extras: dict[date, list[int]] = field(default_factory=lambda: defaultdict(list))


def read_marks(assessment: Assessment, spans: Spans, words: dict[int, PlannedSessionWords]) -> list[MarksOfClient]:
    """Of each client the planned sessions of the span, by suggested day, and the extra ones."""
    outcomes, statuses = assessment.history.outcomes, assessment.statuses
    found = [MarksOfClient() for _ in spans.first_day]
    inside = spans.hold(outcomes["client_row"], outcomes["suggested_day"])
    names = ("session_id", "client_row", "week_start_day", "counted_sets", "planned_sets")
    rows = outcomes.rows(inside)
    columns = [rows[name].tolist() for name in names]
    told = statuses.rows(inside)
    more = [told[name].tolist() for name in ("status", "set_completion", "is_done_later", "performed_day")]
    sessions = sorted(zip(*columns, *more, strict=True), key=lambda row: (words[row[0]].suggested_on, row[0]))
    for pk, client_row, monday, counted, planned, status, share, is_later, performed in sessions:
        session, week = words[pk], to_date_cached(monday)
        found[client_row].blocks[week] = session.block, session.week
        found[client_row].marks[week].append(
            SessionMark(
                week_start=week,
                block_week=session.week,
                label=session.label,
                suggested_on=session.suggested_on,
                status=STATUSES[status].value,
                set_completion=None if share != share else share,
                done_later=is_later,
                performed_on=to_date_cached(performed) if performed >= 0 else None,
                counted_sets=counted if performed >= 0 else 0,
                planned_sets=planned,
            )
        )
    _add_extras(assessment, spans, found)
    return found


def _add_extras(assessment: Assessment, spans: Spans, found: Sequence[MarksOfClient]) -> None:
    history = assessment.history
    figures = history.log_figures
    client_row, day = figures["client_row"], figures["performed_day"]
    is_past = day <= history.record.clients["as_of_day"][client_row]
    is_extra = (history.links["standing"] == Standing.EXTRA) & spans.hold(client_row, day) & is_past
    columns = (figures[name][is_extra].tolist() for name in ("client_row", "performed_day", "working_sets"))
    for client_row, performed_day, sets in sorted(zip(*columns, strict=True)):
        found[client_row].extras[monday_of(to_date(performed_day))].append(sets)


def build_weeks(
    span: SpanOfClient, marks: MarksOfClient, pauses: Iterable[Pause], period: Period
) -> tuple[PackWeek, ...]:
    weeks = []
    for figures in span.weeks:
        monday = to_date_cached(figures["week_start_day"])
        block, block_week = marks.blocks.get(monday, ("", None))
        weeks.append(
            PackWeek(
                week_start=monday,
                block=block,
                block_week=block_week,
                marks=tuple(marks.marks.get(monday, ())),
                extras=tuple(marks.extras.get(monday, ())),
                due=figures["due"],
                attended=figures["attended"],
                tonnage_kg=figures["tonnage_kg"],
                dose=figures["dose"],
                note=_note(pauses, max(monday, period.first), min(monday + timedelta(days=6), period.last)),
            )
        )
    return tuple(weeks)


def _note(pauses: Iterable[Pause], first: date, last: date) -> str:
    """What a week says of its days in a pause; why somebody paused stays with the coach."""
    inside = [pause for pause in pauses if pause.from_on <= last and pause.until_on >= first]
    if not inside:
        return ""
    word, days = pause_word(inside), (last - first).days + 1
    paused = paused_days(inside, first, last)
    return word if paused == days else f"{word} on {paused} of {days} days"


def pause_word(pauses: Iterable[Pause]) -> str:
    return "away" if all(pause.reason == Pause.Reason.AWAY for pause in pauses) else "paused"


def paused_days(pauses: Iterable[Pause], first: date, last: date) -> int:
    """How many of the days from first to last lie in a pause; days in several count once."""
    ordinals = {
        day
        for pause in pauses
        for day in range(max(pause.from_on, first).toordinal(), min(pause.until_on, last).toordinal() + 1)
    }
    return len(ordinals)
