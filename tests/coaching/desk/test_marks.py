from __future__ import annotations

import re
from datetime import date

import pytest

from coaching.desk import marks
from coaching.monitoring.mark_words import LEGEND, ExtraMark, shape_of
from coaching.monitoring.models import Status
from coaching.monitoring.session_marks import SessionMark

MONDAY = date(2026, 4, 6)


def a_mark(status: str = "done", **changes: object) -> SessionMark:
    """Session B of the week of 6 April 2026, all of its twelve sets done two days late."""
    plain = SessionMark(
        week_start=MONDAY,
        block_week=3,
        label="B",
        suggested_on=date(2026, 4, 8),
        status=status,
        set_completion=None,
        done_later=False,
        performed_on=None,
        counted_sets=0,
        planned_sets=12,
    )
    return plain._replace(**changes)


@pytest.mark.parametrize("status", Status.values)
def test_every_mark_says_its_day_session_and_state_in_words(status: str) -> None:
    drawn = marks.mark(a_mark(status))

    assert "Wed 8 Apr, session B" in drawn
    assert drawn.count("<title>") == 1
    assert 'role="img" aria-label="Wed 8 Apr, session B: ' in drawn


def test_every_status_has_a_shape_of_its_own_that_stands_in_the_legend() -> None:
    shapes = {shape_of(a_mark(status, set_completion=0.5)) for status in Status.values}

    assert len(shapes) == len(Status.values)
    assert shapes <= {shape for shape, _ in LEGEND}


def test_no_two_shapes_are_told_apart_by_colour_alone() -> None:
    outlines = re.findall(r'<path (?:class="([^"]+)" )?d="([^"]+)"', marks.legend())

    assert len(outlines) == len(LEGEND)

    drawn_alike = [kind for kind, outline in outlines if [o for _, o in outlines].count(outline) > 1]

    # The overdue square is the missed one with a dashed line.
    assert drawn_alike == ["mark-missed", "mark-overdue"]


def test_a_done_session_tells_the_day_it_was_done_and_its_sets() -> None:
    text = marks.mark_text(a_mark("done", performed_on=date(2026, 4, 10), counted_sets=11))

    assert text == "Fri 10 Apr, session B: done, 11 of 12 sets"


def test_a_missed_session_tells_the_day_that_was_suggested() -> None:
    assert marks.mark_text(a_mark("missed")) == "Wed 8 Apr, session B: missed, 0 of 12 sets"


def test_a_session_done_after_its_week_says_so_and_has_a_notch() -> None:
    late = a_mark("done", performed_on=date(2026, 4, 14), counted_sets=12, done_later=True)

    assert marks.mark_text(late) == "Tue 14 Apr, session B: done, 12 of 12 sets, after its week"
    assert shape_of(late) == "done-later"


@pytest.mark.parametrize(("completion", "shape"), [(0.0, "partial-1"), (0.5, "partial-5"), (0.79, "partial-8")])
def test_a_partial_session_is_filled_to_its_share_and_never_looks_empty(completion: float, shape: str) -> None:
    assert shape_of(a_mark("partial", set_completion=completion)) == shape


def test_an_extra_session_tells_its_day_and_sets() -> None:
    assert marks.mark_text(ExtraMark(date(2026, 4, 11), 1)) == "Sat 11 Apr: extra session, 1 set"


def test_a_session_without_a_label_is_told_by_its_day_alone() -> None:
    assert marks.mark_text(a_mark("to_come", label="")) == "Wed 8 Apr: to come"


def test_a_label_cannot_bring_markup_along() -> None:
    drawn = marks.strip([a_mark("done", label='<b>"x')])

    assert "<b>" not in drawn
    assert "&lt;b&gt;&quot;x" in drawn


def test_a_strip_is_one_picture_with_a_summary_and_a_gap_between_weeks() -> None:
    this_week = [a_mark("done"), a_mark("missed"), ExtraMark(date(2026, 4, 11), 9)]
    next_week = [a_mark("done", week_start=date(2026, 4, 13))]

    drawn = marks.strip(this_week + next_week)

    assert drawn.count("<svg") == 1
    assert 'aria-label="2 done, 1 missed, 1 extra"' in drawn
    assert f'd="M{3 * marks.MARK_PITCH + marks.WEEK_GAP} 0' in drawn


def test_a_strip_of_nothing_is_nothing() -> None:
    assert marks.strip([]) == ""


def test_a_quiet_strip_has_the_shapes_of_the_strip_in_one_path_of_a_kind() -> None:
    week = [a_mark("done"), a_mark("missed"), a_mark("done"), a_mark("to_come", week_start=date(2026, 4, 13))]

    quiet, full = marks.quiet_strip(week), marks.strip(week)

    outlines = [outline for drawn in re.findall(r' d="([^"]+)"', quiet) for outline in drawn.split("M")[1:]]
    assert sorted(outlines) == sorted(drawn.removeprefix("M") for drawn in re.findall(r' d="([^"]+)"', full))
    assert re.search('aria-label="([^"]+)"', quiet)[1] == "2 done, 1 missed, 1 to come"
    assert quiet.count("<path") == 3
    assert quiet.count("<title>") == 0


def test_a_quiet_strip_of_nothing_is_nothing() -> None:
    assert marks.quiet_strip([]) == ""
