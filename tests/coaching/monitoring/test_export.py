"""The four tables for other programs, computed from the record as at a day; the twin holds their figures."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from coaching.monitoring import acts
from coaching.monitoring.export import export_rows
from coaching.monitoring.fact_shapes import COLUMNS
from coaching.monitoring.models import Flag
from roster.people.models import Client, Coach
from tests.coaching.factories import ClientFactory
from tests.coaching.monitoring.files import (
    MET,
    SHORT,
    asked,
    client,
    day,
    done,
    flag,
    load_ana,
    load_logs,
    load_rows,
    stand_at,
    told,
    weekly_logs,
    weekly_plan,
)

pytestmark = pytest.mark.django_db
PLAN = weekly_plan(*["20"] * 8)


def rows(coach: Coach, table: str, on: str, **about) -> list[dict]:
    return export_rows(table, coach.studio, as_of=day(on), **about)


@pytest.mark.parametrize("table", COLUMNS)
def test_every_row_has_the_columns_of_its_table_in_their_order(coach: Coach, table: str):
    load_ana(coach, PLAN, *weekly_logs(MET, SHORT, SHORT))

    found = rows(coach, table, "2026-01-20")

    assert found
    assert {tuple(row) for row in found} == {tuple(COLUMNS[table])}


def test_a_row_of_sessions_for_every_planned_one_future_ones_too(coach: Coach):
    logs = done("2026-01-12", MET, names="1 A"), told("2026-01-13", names="2 A")
    load_ana(coach, weekly_plan("20", "20", "20"), *logs)

    assert rows(coach, "sessions", "2026-01-14") == [
        {
            "client": "ana", "block": "Base", "week": 1, "session": "A", "iso_week": "2026-W02",
            "suggested_on": day("2026-01-05"), "status": "done", "set_completion": 1.0, "done_later": True,
            "performed_on": day("2026-01-12"),
        },
        {
            "client": "ana", "block": "Base", "week": 2, "session": "A", "iso_week": "2026-W03",
            "suggested_on": day("2026-01-12"), "status": "told", "set_completion": None, "done_later": False,
            "performed_on": day("2026-01-13"),
        },
        {
            "client": "ana", "block": "Base", "week": 3, "session": "A", "iso_week": "2026-W04",
            "suggested_on": day("2026-01-19"), "status": "to_come", "set_completion": None, "done_later": False,
            "performed_on": None,
        },
    ]


def test_a_row_of_weeks(coach: Coach):
    load_ana(coach, [asked()], done("2026-01-05", "8@20 8@20", minutes="20", rpe="6"))

    assert rows(coach, "weeks", "2026-01-05") == [
        {
            "client": "ana", "iso_week": "2026-W02", "due": 1, "done": 0, "partial": 1, "told": 0, "missed": 0,
            "overdue": 0, "awaited": 0, "not_due": 0, "turnout": 1.0, "completion": pytest.approx(2 / 3),
            "tonnage_kg": 320.0, "dose": pytest.approx(2 / 3), "dose_uncapped": pytest.approx(2 / 3), "minutes": 20.0,
            "density_kg_min": 16.0, "session_load": 120.0,
        }
    ]


def test_a_row_of_exposures(coach: Coach):
    load_ana(coach, [asked(reps="12-10-8")], done("2026-01-06", "12@20 9@20 8@20"))

    assert rows(coach, "exposures", "2026-01-06") == [
        {
            "client": "ana", "exercise": "Squat", "block": "Base", "week": 1, "session": "A", "position": 1,
            "performed_on": day("2026-01-06"), "target_sets": 3, "target_reps": "12-10-8", "target_load_kg": 20.0,
            "sets_met": 2, "met": False, "reason": "reps_short", "best_e1rm_kg": pytest.approx(26.0),
            "tonnage_kg": 580.0,
        }
    ]


def test_numbers_are_python_s_own(coach: Coach):
    load_ana(coach, [asked()], *weekly_logs(MET))

    [exposure], [session] = rows(coach, "exposures", "2026-01-05"), rows(coach, "sessions", "2026-01-05")

    kinds = {name: type(exposure[name]) for name in ("week", "met", "sets_met", "best_e1rm_kg", "target_reps")}
    assert kinds == {"week": int, "met": bool, "sets_met": int, "best_e1rm_kg": float, "target_reps": int}
    assert type(session["done_later"]) is bool


def test_a_row_of_flags(coach: Coach):
    load_ana(coach, PLAN, *weekly_logs(MET, SHORT, SHORT))

    [stall] = [row for row in rows(coach, "flags", "2026-01-20") if row["kind"] == "stall"]

    assert stall.pop("sentence").startswith("Squat, short two times running on this landing: 3 × 8 at 20 kg")
    assert stall == {
        "client": "ana", "kind": "stall", "subject": "Squat", "urgency": "watch", "opened_on": day("2026-01-19"),
    }


def test_a_closed_flag_is_left_out_and_comes_back_when_it_is_worse(coach: Coach):
    load_ana(coach, PLAN, *weekly_logs(MET, SHORT, SHORT, SHORT))
    stand_at(coach, "2026-01-20")
    acts.close(flag=flag("stall"), by=coach, on=day("2026-01-20"), reason="a new bench")

    def has_stall(on: str) -> bool:
        return any(row["kind"] == "stall" for row in rows(coach, "flags", on))

    assert [has_stall(on) for on in ("2026-01-19", "2026-01-20", "2026-01-25", "2026-01-26")] == [
        True, False, False, True,
    ]


def test_seen_and_put_aside_are_exported_all_the_same(coach: Coach):
    load_ana(coach, PLAN, *weekly_logs(MET, SHORT, SHORT))
    stand_at(coach, "2026-01-20")
    acts.mark_seen(flag=flag("stall"), by=coach, on=day("2026-01-20"))
    acts.put_aside(flag=flag("stall"), by=coach, on=day("2026-01-20"), until=day("2026-02-20"))

    assert "stall" in {row["kind"] for row in rows(coach, "flags", "2026-01-21")}


def test_what_was_stored_last_changes_no_export(coach: Coach):
    load_ana(coach, PLAN, *weekly_logs(MET, SHORT, SHORT))
    before = rows(coach, "flags", "2026-01-20")

    stand_at(coach, "2026-06-01")

    assert rows(coach, "flags", "2026-01-20") == before
    Flag.objects.all().delete()
    assert rows(coach, "flags", "2026-01-20") == before


def test_without_a_day_each_client_stands_at_their_own_today(coach: Coach):
    load_ana(coach, [asked()])
    load_rows("clients", [client(client="bea", time_zone="Pacific/Auckland")], coach)
    load_rows("blocks", [asked(client="bea")], coach)
    late_on_tuesday = datetime(2026, 1, 6, 22, tzinfo=UTC)

    found = export_rows("sessions", coach.studio, as_of=None, now=late_on_tuesday)

    assert {row["client"]: row["status"] for row in found} == {"ana": "to_come", "bea": "overdue"}


def test_one_client_s_rows_by_their_key_in_any_letters(coach: Coach):
    load_ana(coach, [asked()])
    ClientFactory(lead=coach, key="bea")

    assert len(rows(coach, "sessions", "2026-01-20", client_key=" ANA ")) == 1
    assert rows(coach, "sessions", "2026-01-20", client_key="bea") == []
    with pytest.raises(Client.DoesNotExist):
        rows(coach, "sessions", "2026-01-20", client_key="cai")


def test_another_studio_s_clients_are_not_there(coach: Coach, outsider: Coach):
    load_ana(coach, [asked()], *weekly_logs(MET))
    load_ana(outsider, [asked(load="99")], done("2026-01-05", "8@99"))

    assert [row["target_load_kg"] for row in rows(coach, "exposures", "2026-01-05")] == [20.0]
    assert [row["target_load_kg"] for row in rows(outsider, "exposures", "2026-01-05")] == [99.0]


def test_rows_are_in_order_of_the_clients_keys(coach: Coach):
    for key in ("b", "a", "c"):
        load_rows("clients", [client(client=key)], coach)
        load_rows("blocks", [asked(client=key), asked(client=key, week="2")], coach)

    found = rows(coach, "sessions", "2026-01-20")

    assert [(row["client"], row["week"]) for row in found] == [(key, week) for key in "abc" for week in (1, 2)]


def test_pounds_that_are_the_same_grams_give_the_same_figures(coach: Coach, outsider: Coach):
    """20 kg are 44.0925 lb, to the gram."""
    load_ana(coach, weekly_plan("20", "20"), *weekly_logs(MET, "8@20 8@20 7@18"))
    load_ana(outsider, weekly_plan("44.0925", "44.0925", unit="lb"), unit="lb")
    load_logs(outsider, *weekly_logs("8@44.0925 8@44.0925 8@44.0925", "8@44.0925 8@44.0925 7@39.6832", unit="lb"))

    for table in ("sessions", "weeks", "exposures"):
        assert rows(coach, table, "2026-01-14") == rows(outsider, table, "2026-01-14")


def test_the_number_of_queries_does_not_depend_on_the_number_of_clients(coach: Coach):
    load_ana(coach, PLAN, *weekly_logs(MET, SHORT, SHORT))

    def queries() -> int:
        with CaptureQueriesContext(connection) as asked_queries:
            rows(coach, "flags", "2026-01-20")
        return len(asked_queries)

    of_one = queries()
    for key in ("b", "c", "d"):
        load_rows("clients", [client(client=key)], coach)
        load_rows("blocks", [{**row, "client": key} for row in PLAN], coach)

    assert queries() == of_one


def test_the_days_are_dates(coach: Coach):
    load_ana(coach, [asked()], *weekly_logs(MET))

    assert type(rows(coach, "exposures", "2026-01-05")[0]["performed_on"]) is date
