"""The Client story: its drawings, each with the same numbers as a table."""

from __future__ import annotations

from datetime import timedelta

import pytest
from bs4 import BeautifulSoup

from roster.mass import MassUnit
from roster.people.models import Client
from tests.coaching.desk.pages import words
from tests.coaching.desk.stories import ReadStory, a_session, a_week, figures_of
from tests.coaching.factories import MONDAY, WEDNESDAY

LAST_WEEK = MONDAY - timedelta(weeks=1)
pytestmark = pytest.mark.usefixtures("wednesday")


@pytest.fixture
def two_weeks(client_of_coach: Client) -> None:
    """A week with everything, and one of which neither tonnage nor minutes are known."""
    a_session(client_of_coach, LAST_WEEK)
    a_session(client_of_coach, MONDAY)
    a_week(client_of_coach, LAST_WEEK)
    a_week(client_of_coach, MONDAY, tonnage_kg=None, dose=0.0, minutes=None, timed_minutes=0)


def latest_rows(story: BeautifulSoup) -> dict[str, list[list[str]]]:
    """By chart the first two rows of its table."""
    return {
        chart["data-figure"].split("-")[0]: [
            [cell.text for cell in row.select("td")] for row in chart.parent.select("tbody tr")[:2]
        ]
        for chart in story.select(".chart")
    }


@pytest.mark.usefixtures("two_weeks")
def test_every_chart_has_its_figure_and_a_label(read_story: ReadStory) -> None:
    story = read_story()

    charts = {chart["data-figure"]: chart for chart in story.select(".chart")}
    assert charts.keys() == figures_of(story).keys()
    assert all(chart["role"] == "img" and chart["aria-label"] for chart in charts.values())


@pytest.mark.usefixtures("two_weeks")
def test_every_chart_has_a_table_of_the_same_numbers(read_story: ReadStory) -> None:
    story = read_story()

    rows = latest_rows(story)
    assert rows["tonnage"] == [
        ["13 Apr 2026", "3 of 3", "–", "1,000 kg", "0 %"],
        ["6 Apr 2026", "3 of 3", "800 kg", "1,000 kg", "80 %"],
    ]
    assert rows["density"] == [["13 Apr 2026", "–", "–"], ["6 Apr 2026", "25 min", "96 %"]]
    assert rows["staircase"][0] == [
        "Mon 13 Apr 2026", "4 × 10 at 20 kg, rest 65 s", "10-10-10-10 × 20 kg", "met", "25.3"
    ]
    assert figures_of(story)["tonnage"]["data"][0]["y"][-2:] == [800.0, None]


def test_a_staircase_names_its_load_and_e1rm_with_the_formula(client_of_coach: Client, read_story: ReadStory) -> None:
    a_session(client_of_coach, MONDAY)

    stairs = read_story().select_one("section:has(#staircases)")

    assert words(stairs.figcaption) == "Goblet squat 20 kg"
    assert stairs.select_one(".e1rm").text == "e1RM 25.3 kg, Epley"
    assert "sets of 2 to 10 reps" in stairs.select_one(".remark").text


def test_exercises_no_longer_planned_fold(client_of_coach: Client, read_story: ReadStory) -> None:
    a_session(client_of_coach, WEDNESDAY - timedelta(weeks=4))

    stairs = read_story().select_one("section:has(#staircases)")

    assert "No exercise is live" in stairs.select_one(".stairs").text
    assert stairs.select_one(".over a").text == "1 no longer planned"
    assert stairs.select_one(".over a")["href"] == "?over=shown#over"


def test_exercises_no_longer_planned_are_drawn_when_asked_for(client_of_coach: Client, read_story: ReadStory) -> None:
    a_session(client_of_coach, WEDNESDAY - timedelta(weeks=4))

    story = read_story("?over=shown")

    assert story.select_one("#over figcaption h3").text == "Goblet squat"
    assert [key.partition("-")[0] for key in figures_of(story)] == ["staircase"]


def test_pounds_are_shown_to_a_client_in_pounds(client_of_coach: Client, read_story: ReadStory) -> None:
    client_of_coach.unit = MassUnit.POUND
    client_of_coach.save()
    a_session(client_of_coach, MONDAY)
    a_week(client_of_coach, MONDAY, tonnage_kg=453.59237)

    story = read_story()

    assert [head.text for head in story.select(".week-sheet thead th")][4] == "lb"
    assert story.select_one(".week-sheet tbody tr").select("td")[3].text == "1,764"
    assert "10-10-10-10 × 44.09 lb" in story.select_one(".log").text
    assert "1,000 lb" in story.select_one("[data-figure=tonnage]").parent.table.text


@pytest.mark.parametrize(("reach", "weeks"), [("", 12), ("?reach=26", 26), ("?reach=52", 41), ("?reach=all", 41)])
def test_charts_reach_back_as_far_as_asked_and_no_farther_than_there_is(
    reach: str, weeks: int, client_of_coach: Client, read_story: ReadStory
) -> None:
    for back in (0, 40):
        a_session(client_of_coach, MONDAY - timedelta(weeks=back))
        a_week(client_of_coach, MONDAY - timedelta(weeks=back))

    bars = figures_of(read_story(reach))["tonnage"]["data"][0]["x"]

    assert len(bars) == weeks


def test_the_chart_library_is_loaded_from_here_and_no_script_is_inline(read_story: ReadStory) -> None:
    scripts = read_story().select("script")

    assert any("vendor/plotly/" in script.get("src", "") for script in scripts)
    assert {script.get("src", "")[:1] for script in scripts if script.get("type") != "application/json"} == {"/"}
    assert not read_story().select("[style]")
