"""The Client story of those who have just begun, or have not yet."""

from __future__ import annotations

from datetime import timedelta

import pytest

from coaching.monitoring.models import LogFact, SessionFact, Status
from roster.people.models import Client
from tests.coaching.desk.pages import words
from tests.coaching.desk.stories import ReadStory, a_session, a_week, figures_of, no_figure_is_broken
from tests.coaching.factories import MONDAY, LogFactFactory

LAST_WEEK = MONDAY - timedelta(weeks=1)
pytestmark = pytest.mark.usefixtures("wednesday")


def test_a_client_without_a_block_is_told_what_comes_next(read_story: ReadStory) -> None:
    story = read_story()

    assert "No block yet, so nothing is asked and nothing is due." in words(story.select_one(".beginning"))
    assert "load_blocks" in story.select_one(".beginning").text
    assert "No session logs yet." in story.select_one(".log").text
    assert figures_of(story) == {}
    assert no_figure_is_broken(story)


def test_a_first_block_to_come_is_announced(client_of_coach: Client, read_story: ReadStory) -> None:
    a_session(client_of_coach, MONDAY + timedelta(weeks=3), done=False)
    SessionFact.objects.update(status=Status.TO_COME)

    story = read_story()

    assert story.select_one(".beginning").text == ("Block 5 starts with a session on Mon 4 May; nothing is due before.")
    assert no_figure_is_broken(story)


@pytest.mark.parametrize(
    ("status", "sentence"),
    [
        (Status.NOT_DUE, "No log yet. Nothing has come due since Mon 6 Apr."),
        (Status.MISSED, "No log yet. The first session was suggested for Mon 6 Apr."),
    ],
)
def test_a_client_who_sent_nothing_yet_is_told_so(
    status: str, sentence: str, client_of_coach: Client, read_story: ReadStory
) -> None:
    a_session(client_of_coach, LAST_WEEK, done=False)
    SessionFact.objects.update(status=status)

    story = read_story()

    assert story.select_one(".beginning").text == sentence
    assert no_figure_is_broken(story)


def test_logs_without_any_plan_are_a_story_too(client_of_coach: Client, read_story: ReadStory) -> None:
    LogFactFactory(session_log__client=client_of_coach, standing=LogFact.Standing.EXTRA)
    a_week(
        client_of_coach, MONDAY, due=0, done=0, planned_tonnage_g=0, dose=None, timed_planned_tonnage_g=0, turnout=None
    )

    story = read_story()

    assert story.select_one("[data-figure=tonnage]") is not None
    assert story.select_one("[data-figure=density]") is None
    assert no_figure_is_broken(story)


def test_a_clients_words_bring_no_markup_along(client_of_coach: Client, read_story: ReadStory) -> None:
    client_of_coach.goal = "<script>alert(1)</script>"
    client_of_coach.save()
    a_session(client_of_coach, MONDAY, note="</script><b>bold</b>")

    story = read_story()

    assert story.select_one(".story-goal q").text == "<script>alert(1)</script>"
    assert not story.select("main b b, .log q b, .week-sheet q b")
