"""The numbers of the rules are the studio's own."""

from __future__ import annotations

import pytest

from coaching.monitoring.export import export_rows
from coaching.monitoring.models import SessionFact
from roster.people.models import Coach, Studio
from tests.coaching.monitoring.files import MET, SHORT, day, flag, holding, load_ana, stand_at, weekly_logs, weekly_plan

pytestmark = pytest.mark.django_db
PLAN = weekly_plan(*["20"] * 8)


def set_thresholds(coach: Coach, **thresholds: float) -> None:
    Studio.objects.filter(pk=coach.studio_id).update(thresholds=thresholds)
    coach.studio.refresh_from_db()


def test_a_threshold_of_the_studio_changes_its_findings(coach: Coach):
    load_ana(coach, PLAN, *weekly_logs(MET, SHORT, SHORT))
    stand_at(coach, "2026-01-20")
    assert flag("stall").urgency == "watch"

    set_thresholds(coach, stall_act_exposures=2)
    stand_at(coach, "2026-01-20")

    assert flag("stall").urgency == "act"


def test_the_rule_that_is_told_has_the_studio_s_numbers(coach: Coach):
    set_thresholds(coach, quiet_days=21.0)
    load_ana(coach, PLAN, *weekly_logs(MET, MET))

    stand_at(coach, "2026-02-01")
    assert flag("turnout").subject == "early"

    stand_at(coach, "2026-02-02")
    assert flag("turnout").subject == "quiet"
    assert flag("turnout").rule == "No log for 21 days outside pauses, with a session due since."


def test_a_threshold_of_the_studio_changes_its_facts(coach: Coach):
    load_ana(coach, PLAN, *weekly_logs("8@20 8@20"))
    set_thresholds(coach, done_from_completion=0.5)

    stand_at(coach, "2026-01-05")

    assert SessionFact.objects.get(week_start=day("2026-01-05")).status == "done"


def test_and_its_exports(coach: Coach):
    load_ana(coach, PLAN, *weekly_logs(MET))
    set_thresholds(coach, quiet_days=10)

    kinds = {row["kind"] for row in export_rows("flags", coach.studio, as_of=day("2026-01-15"))}

    assert "turnout" in kinds


def test_another_studio_keeps_its_own(coach: Coach, outsider: Coach):
    set_thresholds(coach, stall_act_exposures=2)
    load_ana(outsider, PLAN, *weekly_logs(MET, SHORT, SHORT))

    stand_at(outsider, "2026-01-20")

    assert holding()["stall"] == "watch"


def test_a_threshold_that_is_none_is_told_by_its_name(coach: Coach):
    load_ana(coach, PLAN)
    set_thresholds(coach, quite_days=10)

    with pytest.raises(KeyError, match="quite_days"):
        stand_at(coach, "2026-01-15")
