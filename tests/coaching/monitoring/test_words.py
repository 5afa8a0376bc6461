"""Every kind of finding in plain words: the sentence with its figures, and the rows that it came from."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from coaching.monitoring.models import Flag, Kind
from roster.people.models import Coach
from tests.coaching.monitoring.files import (
    MET,
    SHORT,
    FileRow,
    asked,
    done,
    flag,
    load_ana,
    load_logs,
    stand_at,
    weekly_logs,
    weekly_plan,
)

pytestmark = pytest.mark.django_db
FIRST_DAY = date(2026, 1, 5)
TWENTIES = weekly_plan(*["20"] * 10)


@pytest.fixture
def found(coach: Coach):
    def find(kind: str, on: str, plan: list[FileRow], *logs: list[FileRow], **cells: str) -> Flag:
        load_ana(coach, plan, *logs, **cells)
        stand_at(coach, on)
        return flag(kind)

    return find


def test_a_stall_tells_what_was_asked_what_was_done_and_what_was_met_last(found):
    stall = found("stall", "2026-01-26", TWENTIES, *weekly_logs(MET, SHORT, SHORT, SHORT))

    assert stall.sentence == (
        "Squat, short three times running on this landing: 3 × 8 at 20 kg with 105 s rest, done 8-8-7 (fewer reps)."
    )
    assert stall.remark == "Met 3 × 8 at 20 kg with 120 s rest on Mon 5 Jan: go again from there?"
    assert stall.evidence["columns"] == ["Day", "Session", "Asked", "Done", "Verdict"]
    assert stall.evidence["rows"][-1] == [
        "Mon 26 Jan", "A · week 4", "3 × 8 at 20 kg with 105 s rest", "8-8-7", "fewer reps",
    ]


def test_a_second_round_short_says_so(found):
    plan = [asked(), asked(week="2", sets=4), asked(week="3")]

    stall = found("stall", "2026-01-19", plan, *weekly_logs(SHORT, "8@20 8@20 8@20 8@20", SHORT))

    assert stall.sentence.startswith("Squat, second round on this landing: 3 × 8 at 20 kg")


@pytest.mark.parametrize(
    ("cells", "expected"),
    [
        ({"reps": "30 s", "load": "bw"}, "3 × 30 s with 120 s rest"),
        ({"reps": "20 m", "load": "16"}, "3 × 20 m at 16 kg with 120 s rest"),
        ({"reps": "8 each", "load": "12.5"}, "3 × 8 each at 12.5 kg with 120 s rest"),
        ({"reps": "12-10-8", "load": "20", "rest_s": ""}, "3 × 12-10-8 at 20 kg"),
        ({"load": "44", "unit": "lb"}, "3 × 8 at 19.96 kg with 120 s rest"),
    ],
)
def test_what_was_asked_is_told_in_its_own_measure(found, cells: dict[str, str], expected: str):
    stall = found("stall", "2026-01-12", [asked(**{"rest_s": "120", **cells, "week": week}) for week in ("1", "2")],
                  *weekly_logs("1@1", "1@1"))

    assert f": {expected}, done 1" in stall.sentence


def test_loads_are_told_in_the_client_s_unit(found):
    plan = weekly_plan("45", "45")

    stall = found("stall", "2026-01-12", plan, *weekly_logs("8@40 8@40 8@40", "8@40 8@40 8@40"), unit="lb")

    assert "3 × 8 at 45 lb with 115 s rest, done 8-8-8 at 40 lb (lighter than asked)" in stall.sentence


def test_a_step_not_taken_asks_which_of_four_it_is(found):
    step = found("step_not_taken", "2026-01-19", weekly_plan("16", "20", "20"), *weekly_logs(*["8@16 8@16 8@16"] * 3))

    assert step.sentence == "Squat: 20 kg asked, two sessions running still 16 kg."
    assert step.remark == "Not there, too hard, didn’t dare, forgot? Ask first."


def test_what_is_skipped_is_counted(found):
    plan = [row for week in "1234" for row in (asked(week=week), asked("Row", week=week))]
    logs = weekly_logs({"Squat": MET, "Row": MET}, *[{"Squat": MET}] * 3)

    assert found("skips_it", "2026-01-26", plan, *logs).sentence == "Row: not logged in 3 of its last 4 sessions."


def test_no_step_tells_in_how_many_weeks(found):
    plan = [asked(week=str(week)) for week in (1, 2, 3)]

    no_step = found("no_step", "2026-01-19", plan, *weekly_logs(MET, MET, MET))

    assert no_step.sentence == "Squat: the same 3 × 8 at 20 kg with 75 s rest in 3 weeks of this landing."
    assert "turnout of at least 75 %" in no_step.rule


def test_too_easy_and_ready_tell_what_was_done(found):
    plan = [asked(), asked(week="2")]

    easy = found("too_easy", "2026-01-12", plan, *weekly_logs("8@20 8@20 10@20", "8@20 8@20 11@20"))

    assert easy.sentence == (
        "Squat: last set two or more reps over, twice running; 3 × 8 at 20 kg with 75 s rest, done 8-8-11."
    )
    assert flag("ready").sentence == (
        "Squat: the last stage of its round met, 3 × 8 at 20 kg with 75 s rest, done 8-8-11. "
        "Ready for the next load step."
    )


def test_cut_short_counts_sessions_and_tells_the_minutes_there_are(found):
    cut = found("cut_short", "2026-01-26", TWENTIES, *weekly_logs(*["8@20"] * 4, minutes="31"), minutes="40")

    assert cut.sentence == "4 of the last 4 sessions cut short or well over time. The client has 40 minutes."
    assert cut.evidence["rows"][0] == ["A · week 1", "Mon 5 Jan", "1 of 3", "31"]


@pytest.mark.parametrize(
    ("on", "expected"),
    [
        ("2026-01-09", "The plan runs out: the last planned session is for Mon 5 Jan."),
        ("2026-01-12", "The plan ran out: the last planned session is for Mon 5 Jan."),
    ],
)
def test_a_plan_runs_out_and_ran_out(found, on: str, expected: str):
    assert found("plan_runs_out", on, [asked()], *weekly_logs(MET)).sentence == expected


@pytest.mark.parametrize(
    ("trained", "on", "sentence"),
    [
        (2, "2026-01-26", "Quiet: no log for 14 days outside pauses; 1 session due since."),
        (2, "2026-02-09", "Silent: no log for 28 days outside pauses; 3 sessions due since."),
        (0, "2026-01-12", "Not started: no log yet; the first session was for Mon 5 Jan, 7 days ago."),
    ],
)
def test_turnout_tells_days_and_sessions(found, trained: int, on: str, sentence: str):
    assert found("turnout", on, TWENTIES, *weekly_logs(*[MET] * trained)).sentence == sentence


def every_other_day() -> tuple[list[FileRow], list[list[FileRow]]]:
    """Mondays, Wednesdays and Fridays of six weeks, and the logs of all those sessions."""
    days = [("mon", "A", 0), ("wed", "B", 2), ("fri", "C", 4)]
    plan = [asked(week=str(week), day=day, session=name) for week in range(1, 7) for day, name, _ in days]
    logs = [
        done((FIRST_DAY + timedelta(days=7 * week + more)).isoformat(), MET, names=f"{week + 1} {name}")
        for week in range(6)
        for _, name, more in days
    ]
    return plan, logs


def test_a_week_gone_tells_how_it_was_before(found):
    plan, logs = every_other_day()

    gone = found("turnout", "2026-02-08", plan, *logs[:12])

    assert gone.subject == "week_gone"
    assert gone.sentence == "A week gone: the last 3 sessions missed; before that 12 of 12."
    assert gone.evidence["rows"][-1] == ["C · week 5", "Fri 6 Feb", "overdue", "0 of 3"]


def test_early_days_are_told_as_such(found):
    plan, logs = every_other_day()

    early = found("turnout", "2026-01-14", plan, *logs[:2])

    assert early.sentence == "Early days: the last two sessions missed, in the first four weeks."


@pytest.mark.parametrize(
    ("pains", "sentence"),
    [
        (["7"], "Pain 7 of 10 in the left knee on Mon 5 Jan."),
        (["4", "3.5"], "Pain 3.5 of 10 in the left knee on Mon 12 Jan; 2 reports above 2 in a row."),
        (["1", "2", "1"], "Pain 1 of 10 in the left knee on Mon 19 Jan; felt in each of the last three reports."),
    ],
)
def test_pain_tells_how_much_where_and_since_when(coach: Coach, pains: list[str], sentence: str):
    load_ana(coach, TWENTIES)
    for number, pain in enumerate(pains):
        load_logs(coach, *weekly_logs(*[""] * number, MET, pain=pain, pain_region="left knee"))

    stand_at(coach, "2026-01-21")

    assert flag("pain").sentence == sentence
    assert len(flag("pain").evidence["rows"]) == len(pains)


def test_nothing_advises_to_train_through_pain(found):
    pain = found("pain", "2026-01-05", TWENTIES, *weekly_logs(MET, pain="4"))

    assert pain.options == [
        "Ring before the next session and ask what a doctor or physiotherapist has seen.",
        "Leave out what loads the region until somebody licensed has said otherwise.",
    ]


def test_every_finding_says_its_rule_and_what_would_clear_it(coach: Coach):
    load_ana(coach, [asked(), asked(week="2")], *weekly_logs("8@20 8@20 10@20", "8@20 8@20 10@20", pain="3"))
    stand_at(coach, "2026-01-25")

    flags = list(Flag.objects.all())

    assert {Kind.PAIN, Kind.TOO_EASY, Kind.PLAN_RUNS_OUT} <= {one.kind for one in flags}
    for one in flags:
        assert all((one.sentence, one.rule, one.clears, one.evidence["rows"]))
        assert {len(row) for row in one.evidence["rows"]} == {len(one.evidence["columns"])}
