"""The packs of some clients of one studio, from one pass over their record."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import chain

import numpy as np

from analytics.flag_thresholds import Thresholds
from analytics.span_figures import Spans
from coaching.check_ins.content import Pack, Period, PromiseLine
from coaching.check_ins.facts import PackFacts
from coaching.check_ins.figures import TwoSpans, build_figures
from coaching.check_ins.found import FoundOfClient, read_found
from coaching.check_ins.periods import date_text, period_before
from coaching.check_ins.questions import build_questions
from coaching.check_ins.reads import Read, read_all, read_since, whole_weeks
from coaching.check_ins.sentences import build_sentences
from coaching.check_ins.spans import SpanOfClient, read_spans, spans_of
from coaching.check_ins.weeks import MarksOfClient, build_weeks, paused_days, read_marks
from coaching.monitoring.chart_span import Span
from coaching.monitoring.fact_columns import exposure_columns
from coaching.monitoring.fact_rows import rows_of
from coaching.monitoring.models import ExposureFact
from coaching.monitoring.refresh import AssessedClients, assess_clients
from coaching.monitoring.staircases import Staircase, build_staircases
from roster.blocks.models import Exercise
from roster.people.models import Client, Studio


@dataclass(frozen=True)
class Computed:
    """Of one client."""

    before: Period | None
    now: SpanOfClient
    earlier: SpanOfClient | None
    marks: MarksOfClient
    exposures: list[ExposureFact]
    found: FoundOfClient


def compose_shard(
    studio: Studio, clients: Sequence[Client], as_of: Mapping[int, date], until: Mapping[int, date], period: Period
) -> Iterator[Pack]:
    """In the order of `clients`; `as_of` is the day up to which each one's logs are read, `until` that of the call."""
    read = read_all(clients, period)
    read.since = read_since(as_of, until)
    assessed = assess_clients(studio, as_of)
    computed = _compute(assessed, read, period)
    names = _exercise_names(computed.values(), read)
    tolerance = Thresholds.with_settings(studio.thresholds).load_tolerance
    for client in clients:
        of_client = computed[client.pk]
        staircases = _staircases(client, of_client, read, period, as_of[client.pk], tolerance)
        facts = _facts(client, of_client, staircases, read, names, period, as_of[client.pk])
        yield _pack(studio, facts, of_client, staircases, read)


def _compute(assessed: AssessedClients, read: Read, period: Period) -> dict[int, Computed]:
    assessment = assessed.assessment
    ids = assessment.history.record.clients["client_id"].tolist()
    befores = [period_before(period, read.blocks.get(pk, ())) for pk in ids]
    spans = spans_of([period] * len(ids))
    now, earlier = read_spans(assessment, spans), read_spans(assessment, spans_of(befores))
    marks = read_marks(assessment, spans, read.sessions)
    told_until = np.minimum(spans.last_day, assessment.history.record.clients["as_of_day"])
    found = read_found(assessed, Spans(spans.first_day, told_until))
    exposures = _exposures(assessed, period)
    return {
        pk: Computed(
            before=None if earlier[row].is_empty else befores[row],
            now=now[row],
            earlier=None if earlier[row].is_empty else earlier[row],
            marks=marks[row],
            exposures=exposures.get(pk, []),
            found=found[pk],
        )
        for row, pk in enumerate(ids)
    }


def _exposures(assessed: AssessedClients, period: Period) -> dict[int, list[ExposureFact]]:
    """Of sessions suggested in the weeks of the period."""
    assessment = assessed.assessment
    first, last = (spans.first_day for spans in map(_one_day, whole_weeks(period)))
    suggested = assessment.exposures["suggested_day"]
    shown = replace(assessment, exposures=assessment.exposures.rows((first[0] <= suggested) & (suggested <= last[0])))
    found: dict[int, list[ExposureFact]] = {}
    for exposure in rows_of(ExposureFact, exposure_columns(shown)):
        found.setdefault(exposure.client_id, []).append(exposure)
    return found


def _one_day(day: date) -> Spans:
    return spans_of([Period(day, day, "")])


def _exercise_names(computed: Iterable[Computed], read: Read) -> dict[int, str]:
    names = {one.exercise_id: one.name for one in chain.from_iterable(read.planned.values())}
    spans = [span for one in computed for span in (one.now, one.earlier) if span]
    told = {pk for span in spans for pk in (*span.best, *(step.exercise_id for step in span.steps))}
    names |= dict(Exercise.objects.filter(pk__in=told - names.keys()).values_list("pk", "name"))
    # As typed, but for blanks that nobody sees in a column and everybody in a sentence.
    return {pk: " ".join(name.split()) for pk, name in names.items()}


def _staircases(
    client: Client, computed: Computed, read: Read, period: Period, day: date, tolerance: float
) -> tuple[Staircase, ...]:
    span = Span(*whole_weeks(period))
    planned = read.planned[client.pk]
    made = build_staircases(planned, computed.exposures, span, day=day, unit=client.unit, tolerance=tolerance)
    return tuple(made)


def _facts(
    client: Client,
    computed: Computed,
    staircases: Sequence[Staircase],
    read: Read,
    names: Mapping[int, str],
    period: Period,
    as_of: date,
) -> PackFacts:
    shown = [staircase.exercise_id for staircase in staircases]
    others = sorted(set(computed.now.best) - set(shown), key=lambda pk: (names[pk], pk))
    pauses = tuple(read.pauses.get(client.pk, ()))
    return PackFacts(
        client=client,
        period=period,
        before=computed.before,
        as_of=as_of,
        now=computed.now,
        earlier=computed.earlier,
        weeks=build_weeks(computed.now, computed.marks, pauses, period),
        pauses=pauses,
        names=names,
        exercises=(*shown, *others),
    )


def _pack(
    studio: Studio, facts: PackFacts, computed: Computed, staircases: tuple[Staircase, ...], read: Read
) -> Pack:
    client, nothing = facts.client, _nothing(facts)
    sentences, traces = ((), {}) if nothing else build_sentences(facts)
    spans = TwoSpans(facts.now, facts.earlier, client.unit, facts.names, facts.exercises)
    agreed = _agreed(facts, read)
    return Pack(
        client_id=client.public_id,
        client_name=client.name,
        studio_name=studio.name,
        coach_name=str(read.coaches[client.lead_id]),
        unit=client.unit,
        period=facts.period,
        before=facts.before,
        as_of=facts.as_of,
        sentences=sentences,
        figures=() if nothing else build_figures(spans),
        weeks=facts.weeks,
        staircases=() if nothing else staircases,
        agreed=agreed,
        found=tuple(computed.found.told),
        contacts=tuple(read.contacts.get(client.pk, ())),
        answers=read.answers[client.pk],
        questions=build_questions(facts, computed.found.standing, read.since.get(client.pk, ()), agreed),
        traces=traces,
        nothing=nothing,
    )


def _nothing(facts: PackFacts) -> str:
    """Why there is nothing to tell; empty where there is something."""
    period, joined_on = facts.period, facts.client.joined_on
    if facts.as_of < period.first:
        return f"{period.title} begins on {date_text(period.first)}, which is still to come."
    if not facts.now.figures["attended"] and not facts.now.figures["logs"] and joined_on > period.last:
        return f"Joined on {date_text(joined_on)}, after this period."
    if not facts.now.is_empty:
        return ""
    paused = paused_days(facts.pauses, period.first, period.last) == (period.last - period.first).days + 1
    return "A pause, with nothing planned or logged." if paused else "Nothing was planned or logged in this period."


def _agreed(facts: PackFacts, read: Read) -> tuple[PromiseLine, ...]:
    """Made or due in the period, or made before and still open."""
    period = facts.period
    return tuple(
        PromiseLine(promise.text, promise.made_on, promise.due_on, promise.kept)
        for promise in read.promises.get(facts.client.pk, ())
        if promise.made_on >= period.first
        or promise.kept is None
        or (promise.due_on and period.first <= promise.due_on <= period.last)
    )
