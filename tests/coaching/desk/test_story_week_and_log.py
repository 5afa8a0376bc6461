"""The Client story: this week, and what was sent before, newest first."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from coaching.monitoring.models import ExposureFact, LogFact, SessionFact, Status
from roster.people.models import Client
from tests.coaching.desk.pages import words
from tests.coaching.desk.stories import ReadStory, a_session
from tests.coaching.factories import MONDAY, WEDNESDAY, LogFactFactory

LAST_WEEK = MONDAY - timedelta(weeks=1)
pytestmark = pytest.mark.usefixtures("wednesday")


def test_this_week_is_told_session_by_session(client_of_coach: Client, read_story: ReadStory) -> None:
    a_session(client_of_coach, MONDAY, "A", minutes="26.00", note="legs heavy")
    short = a_session(client_of_coach, MONDAY + timedelta(days=1), "B")
    SessionFact.objects.filter(pk=short.pk).update(status=Status.PARTIAL, set_completion=0.5, counted_sets=2)
    ExposureFact.objects.filter(session_log=short.session_log).update(met=False, reps_done="10-9")
    a_session(client_of_coach, date(2026, 4, 17), "C", done=False)
    SessionFact.objects.filter(planned_session__label="C").update(status=Status.TO_COME)

    lines = [words(line) for line in read_story().select(".week-sheet tbody tr")]

    assert lines == [
        "Mon 13 Apr, session A: done, 4 of 4 sets A Mon 13 Apr 4 of 4 800 26 legs heavy",
        "Tue 14 Apr, session B: done in part, 2 of 4 sets B Tue 14 Apr 2 of 4 800 – Goblet squat 10-9",
        "Fri 17 Apr, session C: to come C Fri 17 Apr – – –",
    ]


def test_a_session_beside_the_plan_stands_under_the_planned_ones(
    client_of_coach: Client, read_story: ReadStory
) -> None:
    LogFactFactory(
        session_log__client=client_of_coach, standing=LogFact.Standing.EXTRA, tonnage_g=600_000, working_sets=6
    )

    line = read_story().select_one(".week-sheet tbody tr")

    assert words(line) == "Mon 13 Apr: extra session, 6 sets extra Mon 13 Apr 6 600 –"


def test_a_session_of_body_weight_alone_has_no_tonnage(client_of_coach: Client, read_story: ReadStory) -> None:
    LogFactFactory(session_log__client=client_of_coach, standing=LogFact.Standing.EXTRA, tonnage_g=0, working_sets=6)

    tonnage = read_story().select(".week-sheet tbody td")[3]

    assert (tonnage.text, tonnage.span["title"]) == ("–", "nothing with a load")


def test_a_week_without_a_session_names_the_ones_around_it(client_of_coach: Client, read_story: ReadStory) -> None:
    a_session(client_of_coach, LAST_WEEK)
    a_session(client_of_coach, MONDAY + timedelta(weeks=1), done=False)

    week = words(read_story().select_one("section:has(#this-week)"))

    assert "Nothing planned this week, and nothing sent." in week
    assert "The last planned session was on Monday 6 April 2026." in week
    assert "The next one is on Monday 20 April 2026." in week


def test_the_last_twelve_weeks_stand_as_a_strip(client_of_coach: Client, read_story: ReadStory) -> None:
    a_session(client_of_coach, LAST_WEEK)
    a_session(client_of_coach, MONDAY, done=False)
    a_session(client_of_coach, MONDAY - timedelta(weeks=12))

    strip = read_story().select_one(".strip svg")

    assert strip["aria-label"] == "1 done, 1 missed"


def test_the_log_tells_sets_minutes_effort_pain_and_note(client_of_coach: Client, read_story: ReadStory) -> None:
    a_session(
        client_of_coach,
        MONDAY,
        "B",
        minutes="24.00",
        effort="7.50",
        pain="6.00",
        pain_region="knee",
        note="stopped early",
    )

    entry = read_story().select_one(".log li")

    assert words(entry) == (
        "Mon 13 Apr B, week 2 of Block 5 Goblet squat 10-10-10-10 × 20 kg stopped early "
        "Pain 6 of 10, knee. 24 min 800 kg effort 7.5"
    )


@pytest.mark.parametrize(
    ("standing", "words_of_it"),
    [(LogFact.Standing.SECOND, "A second log of this session"), (LogFact.Standing.EXTRA, "Beside the plan.")],
)
def test_second_logs_and_extra_sessions_are_named(
    standing: str, words_of_it: str, client_of_coach: Client, read_story: ReadStory
) -> None:
    LogFactFactory(session_log__client=client_of_coach, standing=standing)

    assert words_of_it in read_story().select_one(".log li").text


def test_a_session_told_without_details_says_so(client_of_coach: Client, read_story: ReadStory) -> None:
    LogFactFactory(session_log__client=client_of_coach, session_log__has_details=False, tonnage_g=None, working_sets=0)

    assert "Trained; no details told." in read_story().select_one(".log li").text


def test_the_log_has_pages_newest_first_under_their_months(client_of_coach: Client, read_story: ReadStory) -> None:
    for days in range(0, 70, 5):
        LogFactFactory(
            session_log__client=client_of_coach,
            session_log__performed_on=WEDNESDAY - timedelta(days=days),
            standing=LogFact.Standing.EXTRA,
        )

    first, second = read_story().select_one(".log"), read_story("?log=2").select_one(".log")

    assert [month.text for month in first.select("h3")] == ["April 2026", "March 2026", "February 2026"]
    assert first.select_one(".day").contents[0].strip() == "Wed 15 Apr"
    assert words(first.select_one(".pages")) == "1 to 12 of 14 older"
    assert len(second.select("li")) == 2
