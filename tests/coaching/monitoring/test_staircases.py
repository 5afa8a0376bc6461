from __future__ import annotations

from datetime import date, timedelta

import pytest

from analytics.flag_thresholds import Thresholds
from coaching.monitoring.chart_span import Span
from coaching.monitoring.models import ExposureFact
from coaching.monitoring.staircases import DotKind, Planned, Staircase, build_staircases, live_and_over

MONDAY = date(2026, 4, 13)
DAY = date(2026, 4, 15)
SPAN = Span.of_weeks(12, DAY)


def weeks_ago(weeks: int) -> date:
    return MONDAY - timedelta(weeks=weeks)


def asked(pk: int, day: date, load_g: int | None = 20_000, **more: object) -> Planned:
    """4 x 10 at 20 kg with 65 s rest."""
    plain = Planned(
        pk=pk,
        exercise_id=1,
        name="Goblet squat",
        slot="lower",
        suggested_on=day,
        sets=4,
        reps=10,
        set_targets=None,
        measure="reps",
        is_each_side=False,
        load_kind="body" if load_g is None else "mass",
        load_g=load_g,
        band="",
        implements_used=1,
        rest_s=65,
    )
    return plain._replace(**more)


def done(planned: Planned, **more: object) -> ExposureFact:
    """As asked."""
    plain = {
        "planned_exercise_id": planned.pk,
        "exercise_id": planned.exercise_id,
        "performed_on": planned.suggested_on,
        "working_sets": 4,
        "sets_met": 4,
        "met": True,
        "reason": "",
        "reps_done": "10-10-10-10",
        "top_load_g": planned.load_g,
        "best_e1rm_kg": 26.667,
    }
    return ExposureFact(**{**plain, **more})


def staircases(planned: list[Planned], exposures: list[ExposureFact], unit: str = "kg") -> list[Staircase]:
    return build_staircases(planned, exposures, SPAN, day=DAY, unit=unit, tolerance=Thresholds().load_tolerance)


def only_dot(planned: Planned, **more: object) -> tuple[DotKind, float]:
    dot = staircases([planned], [done(planned, **more)])[0].dots[0]
    return dot.kind, dot.value


def test_steps_stand_where_the_load_changes_and_at_the_end() -> None:
    course = [asked(1, weeks_ago(3)), asked(2, weeks_ago(2)), asked(3, weeks_ago(1), 22_000), asked(4, MONDAY, 22_000)]

    steps = staircases(course, [])[0].steps

    assert steps == [(weeks_ago(3), 20.0), (weeks_ago(1), 22.0), (MONDAY + timedelta(days=6), 22.0)]


def test_a_missed_session_is_a_step_without_a_dot() -> None:
    staircase = staircases([asked(1, weeks_ago(1)), asked(2, MONDAY)], [done(asked(2, MONDAY))])[0]

    assert [dot.suggested_on for dot in staircase.dots] == [MONDAY]
    assert staircase.steps[0] == (weeks_ago(1), 20.0)


def test_the_line_is_broken_where_the_exercise_was_not_planned_for_long() -> None:
    steps = staircases([asked(1, weeks_ago(8)), asked(2, MONDAY)], [])[0].steps

    ended_on = weeks_ago(8) + timedelta(days=6)
    assert steps == [
        (weeks_ago(8), 20.0),
        (ended_on, 20.0),
        (ended_on, None),
        (MONDAY, 20.0),
        (MONDAY + timedelta(days=6), 20.0),
    ]


def test_what_was_met_lies_on_the_line() -> None:
    assert only_dot(asked(1, MONDAY)) == (DotKind.MET, 20.0)


def test_reps_short_at_the_load_lie_on_the_line_but_open() -> None:
    assert only_dot(asked(1, MONDAY), met=False, reason="reps_short") == (DotKind.SHORT, 20.0)


def test_a_step_not_taken_lies_at_the_load_lifted_below_the_line() -> None:
    lighter = only_dot(asked(1, MONDAY), met=False, reason="load_below", top_load_g=18_000)

    assert lighter == (DotKind.LIGHTER, 18.0)


@pytest.mark.parametrize("met", [True, False])
def test_a_heavier_load_is_a_ring_above_the_line(met: bool) -> None:
    assert only_dot(asked(1, MONDAY), met=met, top_load_g=22_000) == (DotKind.HEAVIER, 22.0)


def test_a_load_within_one_per_cent_is_the_one_asked() -> None:
    assert only_dot(asked(1, MONDAY), top_load_g=20_190) == (DotKind.MET, 20.0)
    assert only_dot(asked(1, MONDAY), met=False, top_load_g=19_810) == (DotKind.SHORT, 20.0)


def test_what_was_not_logged_is_a_cross_on_the_line() -> None:
    nothing = {"working_sets": 0, "met": False, "reason": "not_logged", "reps_done": "", "top_load_g": None}

    dot = staircases([asked(1, MONDAY)], [done(asked(1, MONDAY), **nothing)])[0].dots[0]

    assert (dot.kind, dot.value, dot.done, dot.verdict) == (DotKind.NOT_LOGGED, 20.0, "nothing", "not logged")


def test_without_a_load_the_steps_are_the_reps_of_all_sets() -> None:
    course = [asked(1, weeks_ago(1), None), asked(2, MONDAY, None, set_targets=[12, 10, 8])]

    staircase = staircases(course, [done(course[1], met=False, reason="reps_short", reps_done="12-10-7")])[0]

    assert staircase.unit == "reps"
    assert [value for _, value in staircase.steps] == [40.0, 30.0, 30.0]
    assert (staircase.dots[0].kind, staircase.dots[0].value) == (DotKind.SHORT, 29.0)
    assert staircase.e1rm == ""


def test_seconds_and_metres_name_their_unit() -> None:
    assert staircases([asked(1, MONDAY, None, measure="s")], [])[0].unit == "s"


def test_pounds_are_the_whole_pounds_they_were_entered_as() -> None:
    forty = asked(1, MONDAY, 18_144)

    staircase = staircases([forty], [done(forty, best_e1rm_kg=18.144)], unit="lb")[0]

    assert (staircase.unit, staircase.latest, staircase.dots[0].value) == ("lb", "40 lb", 40.0)
    assert staircase.e1rm == "40.0 lb, Epley"


def test_words_tell_what_was_asked_and_done() -> None:
    dot = staircases([asked(1, MONDAY)], [done(asked(1, MONDAY), reps_done="10-10-9-8", top_load_g=20_000)])[0].dots[0]

    assert dot.asked == "4 × 10 at 20 kg, rest 65 s"
    assert dot.done == "10-10-9-8 × 20 kg"


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"implements_used": 2, "is_each_side": True}, "4 × 10 each side at 2 × 20 kg, rest 65 s"),
        ({"set_targets": [12, 10, 8], "rest_s": None}, "12-10-8 at 20 kg"),
        ({"load_kind": "band", "band": "green", "load_g": None}, "4 × 10, band green, rest 65 s"),
        ({"load_kind": "body", "load_g": None, "measure": "s"}, "4 × 10 s, body weight, rest 65 s"),
    ],
)
def test_what_was_asked_is_told_as_written(more: dict[str, object], words: str) -> None:
    planned = asked(1, MONDAY, **more)

    assert staircases([planned], [done(planned)])[0].dots[0].asked == words


def test_an_exercise_is_live_up_to_thirteen_days_after_it_was_last_planned() -> None:
    once, again = asked(1, weeks_ago(5)), asked(2, DAY - timedelta(days=13))
    over = asked(3, DAY - timedelta(days=14), exercise_id=2)

    assert live_and_over([once, over, again], DAY, Thresholds()) == ([once, again], [over])


def test_staircases_of_the_upper_body_come_before_the_lower_then_names_decide() -> None:
    course = [
        asked(1, MONDAY, exercise_id=1, slot="upper", name="Row"),
        asked(2, MONDAY, exercise_id=2, slot="full", name="Swing"),
        asked(3, MONDAY, exercise_id=3, slot="upper", name="Press"),
    ]

    assert [one.name for one in staircases(course, [])] == ["Press", "Row", "Swing"]


def test_what_is_planned_beyond_the_span_is_not_drawn() -> None:
    course = [asked(1, MONDAY), asked(2, MONDAY + timedelta(weeks=1), 24_000)]

    staircase = staircases(course, [])[0]

    assert staircase.latest == "20 kg"
    assert {value for _, value in staircase.steps} == {20.0}


def test_an_exercise_that_is_only_to_come_has_no_staircase_yet() -> None:
    assert staircases([asked(1, MONDAY + timedelta(weeks=1))], []) == []


def test_the_e1rm_is_the_best_of_the_last_four_weeks_with_its_formula() -> None:
    course = [asked(1, weeks_ago(5)), asked(2, weeks_ago(1)), asked(3, MONDAY)]
    exposures = [done(one, best_e1rm_kg=kg) for one, kg in zip(course, (40.0, 27.0, 26.0), strict=True)]

    assert staircases(course, exposures)[0].e1rm == "27.0 kg, Epley"


def test_reps_beyond_ten_give_no_e1rm_and_say_so() -> None:
    planned = asked(1, MONDAY, reps=15)

    assert staircases([planned], [done(planned, best_e1rm_kg=None)])[0].e1rm == "beyond the formula's range"


def test_metres_and_seconds_under_load_have_no_e1rm() -> None:
    planned = asked(1, MONDAY, measure="m")

    assert staircases([planned], [done(planned, best_e1rm_kg=None)])[0].e1rm == ""


def test_nothing_lifted_lately_gives_no_e1rm() -> None:
    assert staircases([asked(1, MONDAY)], [])[0].e1rm == ""
