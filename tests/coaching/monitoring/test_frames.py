"""Rows of the record as the frames that the calculations start from."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from analytics.frame_schema import BODY_WEIGHT, Changed, Measure, RepsLeft, Sends
from analytics.training_weeks import to_day
from coaching.monitoring.frames import LoadedRecord, load_record
from coaching.monitoring.models import FlagEvent
from roster.blocks.models import Exercise, PlannedExercise
from roster.logs.models import BodyMeasure, SessionLog, SetLog
from roster.people.models import Client, Coach, Pause
from tests.coaching.factories import ClientFactory, FlagFactory
from tests.coaching.monitoring.files import MET, asked, client, done, load_ana, load_rows, weekly_logs

pytestmark = pytest.mark.django_db
DAY = date(2026, 1, 14)


def loaded(*clients: Client) -> LoadedRecord:
    return load_record({one.pk: DAY for one in clients})


def test_a_client_with_their_own_day(coach: Coach):
    ana = load_ana(coach, [], minutes="40", sends="block", joined_on="2026-01-02")
    bea = ClientFactory(lead=coach, state=Client.State.PAUSED)

    frame = load_record({bea.pk: DAY, ana.pk: DAY - timedelta(days=1)}).record.clients.to_frame().set_index("client_id")

    assert frame.loc[ana.pk].to_dict() == {
        "as_of_day": to_day(date(2026, 1, 13)), "joined_day": to_day(date(2026, 1, 2)), "sends": Sends.BLOCK,
        "minutes": 40.0, "is_active": True,
    }
    assert np.isnan(frame.loc[bea.pk]["minutes"])
    assert not frame.loc[bea.pk]["is_active"]


def test_a_planned_exercise_with_its_load_targets_and_sides(coach: Coach):
    ana = load_ana(coach, [
        asked("Squat", load="20", count="2", rest_s="75", changed="rest"), asked("Row", reps="8 each", load="bw"),
        asked("Press", reps="12-10-8", load="band green", rest_s=""), asked("Plank", reps="30 s", load=""),
    ])

    record = loaded(ana).record
    planned = record.planned_exercises.to_frame().sort_values("position")

    assert planned["load_code"].tolist() == [20_000, BODY_WEIGHT, BODY_WEIGHT - 1, BODY_WEIGHT]
    assert planned["implements"].tolist() == [2, 1, 1, 1]
    assert planned["sides"].tolist() == [1, 2, 1, 1]
    assert planned["measure"].tolist() == [Measure.REPS] * 3 + [Measure.SECONDS]
    assert planned["changed"].tolist() == [Changed.REST, Changed.NONE, Changed.NONE, Changed.NONE]
    assert planned["rest_s"].fillna(-1).tolist() == [75, 75, -1, 75]
    assert planned["target_code"].tolist() == [8, 8, -1, 30]
    assert record.set_targets.to_frame()[["number", "reps"]].to_numpy().tolist() == [[1, 12], [2, 10], [3, 8]]


def test_bands_of_one_name_are_one_load_however_they_are_written(coach: Coach):
    loads = {"Squat": "band Green", "Row": "band green ", "Press": "band blue"}
    ana = load_ana(coach, [asked(exercise, load=load) for exercise, load in loads.items()])

    codes = loaded(ana).record.planned_exercises.to_frame().sort_values("position")["load_code"].tolist()

    assert codes[0] == codes[1] != codes[2]


def test_targets_that_are_equal_have_equal_codes(coach: Coach):
    ladders = ["12-10-8", "12-10-8", "10-10-8"]
    ana = load_ana(coach, [asked(week=str(week), reps=reps) for week, reps in enumerate(ladders, start=1)])

    codes = loaded(ana).record.planned_exercises.to_frame().sort_values("planned_id")["target_code"].tolist()

    assert codes[0] == codes[1] != codes[2]
    assert max(codes) < 0


def test_the_block_ends_on_its_last_sunday(coach: Coach):
    ana = load_ana(coach, [asked(), asked(week="3", day="wed")])

    frame = loaded(ana).record.planned_sessions

    assert set(frame["block_end_day"].tolist()) == {to_day(date(2026, 1, 25))}
    assert sorted(frame["suggested_day"]) == [to_day(date(2026, 1, 5)), to_day(date(2026, 1, 21))]


def test_a_log_with_its_sets(coach: Coach):
    ana = load_ana(coach, [asked()], done("2026-01-06", "8@10* 8@20 7@20", minutes="31.5", rpe="6.5"))
    SetLog.objects.filter(number=3).update(reps_left=SetLog.RepsLeft.TWO_OR_THREE, rest_s=70)

    record = loaded(ana).record

    log = record.session_logs.to_frame().iloc[0]
    assert (log["minutes"], log["effort"], log["has_details"]) == (31.5, 6.5, True)
    assert log["given_session_id"] == record.planned_sessions["session_id"][0]
    sets = record.set_logs.to_frame().sort_values("position")
    assert sets["is_warm_up"].tolist() == [True, False, False]
    assert sets["load_code"].tolist() == [10_000, 20_000, 20_000]
    assert sets["reps_left"].tolist() == [RepsLeft.UNKNOWN, RepsLeft.UNKNOWN, RepsLeft.TWO_OR_THREE]
    assert sets["rest_s"].fillna(-1).tolist() == [-1, -1, 70]


def test_a_swapped_set_knows_what_was_asked(coach: Coach):
    ana = load_ana(coach, [asked("Squat")], done("2026-01-06", {"Leg press": "8@20"}))
    squat = Exercise.objects.get(name="Squat")
    SetLog.objects.update(asked=squat)

    sets = loaded(ana).record.set_logs

    assert sets["asked_id"].tolist() == [squat.pk]
    assert sets["exercise_id"].tolist() == [Exercise.objects.get(name="Leg press").pk]


def test_regions_are_one_however_they_are_written(coach: Coach):
    plan = [asked(), asked(week="2")]
    ana = load_ana(coach, plan, *weekly_logs(MET, MET, pain="3", pain_region="Left Knee"))
    SessionLog.objects.filter(performed_on="2026-01-12").update(pain_region=" left knee")
    Exercise.objects.update(regions=["LEFT KNEE", "hip"])

    told = loaded(ana)

    codes = set(told.record.pain_reports["region_code"])
    assert len(codes) == 1
    assert codes < set(told.record.exercise_regions["region_code"])
    assert list(told.regions.values()) == ["Left Knee", "left knee"]


def test_pain_of_the_next_morning_is_a_report_after_that_of_the_session(coach: Coach):
    ana = load_ana(coach, [asked()], *weekly_logs(MET, pain="1"))
    SessionLog.objects.update(pain_next_morning=4, has_alarm_symptom=True)

    reports = loaded(ana).record.pain_reports.to_frame().sort_values("order")

    assert reports[["pain", "is_alarm"]].to_numpy().tolist() == [[1.0, True], [4.0, False]]


def test_a_withdrawn_pause_is_none(coach: Coach):
    ana = load_ana(coach, [], pauses="2026-01-05..2026-01-07")

    assert loaded(ana).record.pauses.to_frame()[["from_day", "until_day"]].to_numpy().tolist() == [
        [to_day(date(2026, 1, 5)), to_day(date(2026, 1, 7))]
    ]
    Pause.objects.update(withdrawn_at="2026-01-06T00:00Z")
    assert not len(loaded(ana).record.pauses)


def test_only_closings_of_pain_are_closings(coach: Coach):
    ana = load_ana(coach, [asked()])
    for kind, what in (("pain", "closed"), ("pain", "seen"), ("stall", "closed")):
        flag = FlagFactory.build(client=ana, kind=kind)
        FlagEvent.objects.create(client=ana, kind=flag.kind, what=what, on=DAY, urgency=flag.urgency)

    closings = loaded(ana).record.pain_closings
    assert list(zip(closings["client_id"], closings["day"], strict=True)) == [(ana.pk, to_day(DAY))]


def test_the_share_of_body_mass_is_that_of_the_newest_mass_by_the_day(coach: Coach):
    ana = load_ana(coach, [], *(done(day, {"Push-up": "10"}, names="") for day in ("2026-01-06", "2026-01-13")))
    Exercise.objects.update(body_mass_share="0.640", body_mass_source="a paper")
    for on, entered, unit in (("2026-01-06", "80", "kg"), ("2026-01-10", "200", "lb"), ("2026-01-20", "90", "kg")):
        BodyMeasure.objects.create(client=ana, what="mass", measured_on=on, entered=entered, unit=unit)

    moved = loaded(ana).record.set_logs.to_frame().sort_values("log_id")["body_g"]

    assert moved.tolist() == pytest.approx([0.64 * 80_000, 0.64 * 90_718])


def test_without_a_mass_or_a_share_nothing_of_the_body_is_counted(coach: Coach):
    ana = load_ana(coach, [], done("2026-01-06", {"Push-up": "10"}, names=""))
    assert loaded(ana).record.set_logs.to_frame()["body_g"].isna().all()

    Exercise.objects.update(body_mass_share="0.640", body_mass_source="a paper")
    assert loaded(ana).record.set_logs.to_frame()["body_g"].isna().all()


def test_a_fixed_number_of_queries(coach: Coach):
    ana = load_ana(coach, [asked()], *weekly_logs(MET))

    def queries(*clients: Client) -> int:
        with CaptureQueriesContext(connection) as asked_queries:
            loaded(*clients)
        return len(asked_queries)

    of_one = queries(ana)
    load_rows("clients", [client(client=key) for key in ("bea", "cai")], coach)
    load_rows("blocks", [asked(client="bea")], coach)

    assert queries(*Client.objects.all()) == of_one


def test_nobody_has_an_empty_record():
    record = loaded().record

    assert not any(len(getattr(record, name)) for name in record.__dataclass_fields__)
    assert not PlannedExercise.objects.exists()
