"""What a pack says equals what the plain twin, the exports and the Client story say of the same days."""

from __future__ import annotations

from datetime import timedelta

import pytest

from analytics.flag_thresholds import Thresholds
from analytics.iso_weeks import monday_of
from coaching.check_ins.content import FigureKey, Pack, Period
from coaching.check_ins.spans import SpanOfClient, read_spans, spans_of
from coaching.monitoring.chart_span import Span
from coaching.monitoring.client_reading import read_client
from coaching.monitoring.export import export_rows
from coaching.monitoring.finding_ids import telling_subject
from coaching.monitoring.refresh import assess_clients
from coaching.monitoring.staircases import build_staircases, read_planned
from coaching.monitoring.week_points import density_against_plan
from roster.blocks.models import Exercise
from roster.people.models import Client, Coach
from tests.coaching.check_ins.rosters import FOUR_WEEKS, OCTOBER, PERIODS, clients_of, packs, with_twins
from tests.coaching.monitoring.conftest import load_roster as load_roster
from tests.plain_twin.client_day import look_at
from tests.plain_twin.record import fold
from tests.plain_twin.spans import best_sets, episodes, figures_of_span, load_steps

pytestmark = pytest.mark.django_db
FIGURES = (
    "due", "attended", "told", "logs", "completion", "dose", "dose_uncapped", "tonnage_kg", "minutes", "density_kg_min",
    "session_load",
)  # fmt: skip
SEEDS = [401, 402, 403, 404]
WEEKS = 12


def figures_by_key(pack: Pack) -> dict[FigureKey, float | None]:
    return {figure.key: figure.now for figure in pack.figures if figure.key is not FigureKey.BEST_SETS}


def span_of(client: Client, pack: Pack) -> SpanOfClient:
    assessment = assess_clients(client.studio, {client.pk: pack.as_of}).assessment
    return read_spans(assessment, spans_of([pack.period]))[0]


def approx(number: object) -> object:
    return None if number is None else pytest.approx(float(number), rel=1e-9)


def folded_names(coach: Coach) -> dict[int, str]:
    return {pk: fold(name) for pk, name in Exercise.objects.filter(studio=coach.studio).values_list("pk", "name")}


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("period", PERIODS, ids=lambda period: period.title)
def test_figures_equal_the_twin_s(coach, load_roster, seed, period):
    record = load_roster(seed, clients=4, weeks=WEEKS)

    for client, pack, twin in with_twins(coach, record, period):
        expected = figures_of_span(look_at(twin, pack.as_of), period.first, period.last)
        told = span_of(client, pack).figures
        for name in FIGURES:
            assert told[name] == approx(expected[name]), (twin.key, name)
        if not pack.nothing:
            density = figures_by_key(pack)[FigureKey.DENSITY]
            assert density == approx(expected["density_against_plan"]), twin.key


@pytest.mark.parametrize("seed", SEEDS)
def test_load_steps_and_best_sets_equal_the_twin_s(coach, load_roster, seed):
    record = load_roster(seed, clients=4, weeks=WEEKS)
    names = folded_names(coach)

    for client, pack, twin in with_twins(coach, record):
        at, span = look_at(twin, pack.as_of), span_of(client, pack)
        first, last = pack.period.first, pack.period.last
        steps = {(names[one.exercise_id], one.from_load_g, one.to_load_g, one.taken_on) for one in span.steps}
        taken = [one for one in load_steps(at) if first <= one.taken_on <= last]
        assert steps == {(one.exercise, 1000 * one.from_kg, 1000 * one.to_kg, one.taken_on) for one in taken}
        best = {names[one.exercise_id]: (one.performed_on, one.reps, one.load_g) for one in span.best.values()}
        assert best == {one.exercise: (one.performed_on, one.reps, one.grams) for one in best_sets(at, first, last)}


@pytest.mark.parametrize("seed", SEEDS)
def test_what_was_found_equals_the_twin_s_replay_day_by_day(coach, load_roster, seed):
    record = load_roster(seed, clients=2, weeks=9)

    for _, pack, twin in with_twins(coach, record):
        last = min(pack.period.last, pack.as_of)
        replayed = {
            (one.kind, one.condition, one.urgency, one.opened_on, one.ended_on)
            for one in episodes(record, twin, pack.period.first, last)
            if one.urgency != "good" or one.ended_on is None
        }
        told = {
            (one.kind, fold(telling_subject(one.kind, one.subject)), one.urgency, one.opened_on, one.ended_on)
            for one in pack.found
        }
        assert told == replayed, twin.key


@pytest.mark.parametrize("seed", SEEDS[:2])
def test_one_week_s_figures_are_the_export_s(coach, load_roster, seed):
    load_roster(seed, clients=4, weeks=WEEKS)
    seen = 0
    for client in clients_of(coach):
        for monday in (FOUR_WEEKS.first + timedelta(weeks=week) for week in range(4)):
            pack = packs_of_week(coach, client, monday)
            rows = {
                row["iso_week"]: row
                for row in export_rows("weeks", coach.studio, as_of=pack.as_of, client_key=client.key)
            }
            row = rows.get(f"{monday:%G-W%V}")
            if row is None:
                assert pack.nothing
                continue
            seen += 1
            told = figures_by_key(pack)
            assert told[FigureKey.TURNOUT] == approx(row["turnout"])
            assert told[FigureKey.COMPLETION] == approx(row["completion"])
            assert told[FigureKey.DOSE] == approx(row["dose"])
            assert told[FigureKey.SESSION_LOAD] == approx(row["session_load"])
            assert [week.tonnage_kg for week in pack.weeks] == [row["tonnage_kg"]]
            assert [(week.due, week.dose) for week in pack.weeks] == [(row["due"], row["dose"])]
    assert seen > 8


def packs_of_week(coach: Coach, client: Client, monday) -> Pack:
    week = Period(monday, monday + timedelta(days=6), "a week")
    return next(pack for pack in packs(coach, week) if pack.client_id == client.public_id)


@pytest.mark.parametrize("seed", SEEDS[:2])
def test_whole_weeks_are_the_sum_of_the_export_s(coach, load_roster, seed):
    load_roster(seed, clients=4, weeks=WEEKS)

    for client, pack in zip(clients_of(coach), packs(coach, FOUR_WEEKS), strict=True):
        inside = {f"{FOUR_WEEKS.first + timedelta(weeks=week):%G-W%V}" for week in range(4)}
        exported = export_rows("weeks", coach.studio, as_of=pack.as_of, client_key=client.key)
        rows = [row for row in exported if row["iso_week"] in inside]
        assert sum(week.due for week in pack.weeks) == sum(row["due"] for row in rows)
        attended = sum(row["done"] + row["partial"] + row["told"] for row in rows)
        assert sum(week.attended for week in pack.weeks) == attended
        assert sum(week.tonnage_kg or 0 for week in pack.weeks) == approx(sum(row["tonnage_kg"] or 0 for row in rows))


@pytest.mark.parametrize("seed", SEEDS[:2])
def test_marks_are_the_sessions_of_the_export(coach, load_roster, seed):
    load_roster(seed, clients=3, weeks=WEEKS)

    for client, pack in zip(clients_of(coach), packs(coach), strict=True):
        exported = export_rows("sessions", coach.studio, as_of=pack.as_of, client_key=client.key)
        rows = [row for row in exported if OCTOBER.first <= row["suggested_on"] <= OCTOBER.last]
        columns = ("suggested_on", "status", "set_completion", "done_later", "performed_on")
        marks = [mark for week in pack.weeks for mark in week.marks]
        told = [(one.block_week, one.label, *(getattr(one, name) for name in columns)) for one in marks]
        expected = [(row["week"], row["session"], *(row[name] for name in columns)) for row in rows]
        assert sorted(told, key=repr) == sorted(expected, key=repr)


@pytest.mark.parametrize("seed", SEEDS[:2])
def test_what_stands_on_the_last_day_is_what_is_exported_as_at_it(coach, load_roster, seed):
    load_roster(seed, clients=4, weeks=WEEKS)

    for client, pack in zip(clients_of(coach), packs(coach), strict=True):
        exported = export_rows("flags", coach.studio, as_of=OCTOBER.last, client_key=client.key)
        standing = [one for one in pack.found if one.ended_on is None]
        assert {(one.kind, one.subject, one.urgency, one.opened_on, one.sentence) for one in standing} == {
            (row["kind"], row["subject"], row["urgency"], row["opened_on"], row["sentence"]) for row in exported
        }


@pytest.mark.parametrize("seed", SEEDS[:2])
def test_weeks_density_and_staircases_are_the_story_s(coach, load_roster, seed):
    load_roster(seed, clients=3, weeks=WEEKS)
    monday = FOUR_WEEKS.first
    span = Span(monday, FOUR_WEEKS.last)
    tolerance = Thresholds().load_tolerance

    for client, pack in zip(clients_of(coach), packs(coach, FOUR_WEEKS), strict=True):
        facts = read_client(client, as_of=pack.as_of, since=monday)
        weeks = [fact for fact in facts.weeks if monday <= fact.week_start <= FOUR_WEEKS.last]
        assert [(week.week_start, week.due, week.tonnage_kg, week.dose) for week in pack.weeks] == [
            (fact.week_start, fact.due, fact.tonnage_kg, fact.dose) for fact in weeks
        ]
        if len(weeks) == 1:
            assert figures_by_key(pack)[FigureKey.DENSITY] == approx(density_against_plan(weeks[0]))
        planned = [one for one in read_planned(client, monday) if one.suggested_on <= FOUR_WEEKS.last]
        story = build_staircases(planned, facts.exposures, span, day=pack.as_of, unit=client.unit, tolerance=tolerance)
        if not pack.nothing:
            assert list(pack.staircases) == story


def test_a_month_s_weeks_begin_with_its_own_days(coach, load_roster):
    load_roster(405, clients=3, weeks=WEEKS)

    for pack in packs(coach):
        assert {week.week_start for week in pack.weeks} <= {
            monday_of(OCTOBER.first) + timedelta(weeks=week) for week in range(5)
        }
        assert all(OCTOBER.first <= mark.suggested_on <= OCTOBER.last for week in pack.weeks for mark in week.marks)
