from __future__ import annotations

import pytest

from tests.plain_twin.findings import findings_on
from tests.plain_twin.findings_pain import find_pain
from tests.plain_twin.reading import read_record
from tests.plain_twin.small_files import asked, client, done, look, told


def pain_of(*reports: str) -> tuple[str, str] | None:
    """Reports "6 knee", one a day from 2026-01-05 on; "" is a session without a report."""
    logs = []
    for day, report in enumerate(reports, start=5):
        pain, _, region = report.partition(" ")
        logs.append(told(f"2026-01-{day:02}", names="", pain=pain, pain_region=region))
    found = find_pain(look([], *logs, on="2026-01-31"))
    return (found[0].subject, found[0].urgency) if found else None


@pytest.mark.parametrize(
    ("reports", "urgency"),
    [
        (["6 knee"], "now"),
        (["6 knee", "3 knee"], "now"),
        (["3 knee", "5 knee"], "act"),
        (["5 knee"], "watch"),
        (["6 knee", "2 knee", "3 knee"], "watch"),
        (["1 knee", "2 knee", "1 knee"], "watch"),
        (["3 knee", "", "4 knee"], "act"),
    ],
)
def test_the_reports_from_the_latest_back_to_the_first_of_two_or_less(reports, urgency):
    assert pain_of(*reports) == ("knee", urgency)


@pytest.mark.parametrize("reports", [["1 knee", "1 knee"], ["2 knee", "0", "2 knee"], ["8 knee", "2 back"], []])
def test_no_pain(reports):
    assert pain_of(*reports) is None


def test_a_later_report_of_two_or_less_clears_it_whatever_its_region():
    assert pain_of("8 knee", "0 shoulder") is None


def test_the_subject_is_the_latest_region_named():
    assert pain_of("4 knee", "5 shoulder", "4") == ("shoulder", "act")
    assert pain_of("4") == ("unspecified", "watch")


def test_silence_never_ends_it():
    log = told("2026-01-05", names="", pain="6", pain_region="knee")

    assert [found.urgency for found in find_pain(look([], log, on="2027-01-05"))] == ["now"]


def test_pain_holds_back_stall_of_exercises_that_the_record_ties_to_the_region():
    plan = [asked(), asked(day="wed", session="B")]
    logs = [*done("2026-01-05", "7@20"), *done("2026-01-07", "7@20", names="1 B", pain="4", pain_region="Knee")]

    kinds = {}
    for name, regions in (("tied", {"squat": ["knee"]}), ("not tied", {})):
        record = read_record([client()], plan, logs, regions)
        found = findings_on(record, record.clients[0], record.clients[0].logs[-1].performed_on)
        kinds[name] = {finding.kind for finding in found}

    assert "stall" in kinds["not tied"]
    assert kinds["not tied"] - kinds["tied"] == {"stall"}
