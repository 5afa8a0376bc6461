"""A file of clients makes clients, and brings those it knows up to what it says."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from roster.people.client_rows import COLUMNS
from roster.people.loading import CONSENT_PURPOSE, CONSENT_VERSION, load_clients
from roster.people.models import Client, Coach, Consent, KitItem, Pause
from roster.tables.report import LoadReport
from tests.coaching.factories import ClientFactory, CoachFactory
from tests.roster.tables.loaded import NOW, faults_of, load_text

Load = Callable[..., LoadReport]


@pytest.fixture
def load(coach: Coach, tmp_path: Path) -> Load:
    return lambda text, by=coach, now=NOW: load_text(load_clients, COLUMNS, tmp_path, by, text, now)


FULL_ROW = (
    "client,name,email,time_zone,unit,joined_on,sends,minutes,kit,pauses,goal\n"
    'ana,Ana Lima,ana@example.org,Europe/Lisbon,lb,2026-01-12,weekly,45,"dumbbell: 5, 10",'
    "2026-02-02..2026-02-08;2026-03-02..2026-03-03,carry the shopping\n"
)


def test_a_row_becomes_a_client_with_everything_it_says(load: Load, coach: Coach):
    report = load(FULL_ROW)

    ana = Client.objects.get(key="ana")
    assert (report.created, report.changed, report.unchanged) == (1, 0, 0)
    assert (ana.name, ana.email, ana.time_zone, ana.unit) == ("Ana Lima", "ana@example.org", "Europe/Lisbon", "lb")
    assert (ana.joined_on, ana.sends, ana.minutes, ana.goal) == (date(2026, 1, 12), "weekly", 45, "carry the shopping")
    assert (ana.studio, ana.lead) == (coach.studio, coach)


def test_empty_cells_mean_the_key_the_studios_zone_kilograms_and_each_session(load: Load, coach: Coach):
    coach.studio.time_zone = "Asia/Kathmandu"

    load("client,joined_on,name,time_zone,unit,sends,minutes,kit,pauses,goal\nana,2026-01-12,,,,,,,,\n")

    ana = Client.objects.get(key="ana")
    assert (ana.name, ana.time_zone, ana.unit, ana.sends) == ("ana", "Asia/Kathmandu", "kg", "each")
    assert (ana.minutes, ana.goal, ana.kit.count(), ana.pauses.count()) == (None, "", 0, 0)


def test_columns_that_are_not_there_mean_the_same_for_a_new_client(load: Load):
    load("client,joined_on\nana,2026-01-12\n")

    ana = Client.objects.get(key="ana")
    assert (ana.name, ana.time_zone, ana.unit, ana.sends, ana.minutes) == ("ana", "UTC", "kg", "each", None)


def test_the_same_file_again_changes_nothing(load: Load):
    load(FULL_ROW)
    before = Client.objects.values().get()

    report = load(FULL_ROW)

    assert (report.created, report.changed, report.unchanged) == (0, 0, 1)
    assert (report.changes, report.client_ids) == ([], set())
    assert Client.objects.values().get() == before
    assert (Consent.objects.count(), KitItem.objects.count(), Pause.objects.count()) == (1, 1, 2)


def test_a_corrected_file_says_what_it_changed(load: Load):
    load("client,joined_on,name,minutes\nana,2026-01-12,Ana,\n")

    report = load("client,joined_on,name,minutes\n ANA ,2026-01-13,Ana Lima,45\n")

    assert (report.created, report.changed) == (0, 1)
    assert report.changes == [
        "ana: name Ana → Ana Lima",
        "ana: joined on 2026-01-12 → 2026-01-13",
        "ana: minutes none → 45",
    ]
    assert Client.objects.get().version == 2


def test_columns_that_are_not_there_leave_alone_what_the_record_holds(load: Load):
    load(FULL_ROW)

    load("client,joined_on\nana,2026-01-13\n")

    ana = Client.objects.get()
    assert (ana.name, ana.unit, ana.sends, ana.minutes, ana.goal) == (
        "Ana Lima",
        "lb",
        "weekly",
        45,
        "carry the shopping",
    )
    assert (ana.kit.count(), ana.pauses.standing().count()) == (1, 2)


def test_an_empty_cell_of_a_column_that_is_there_empties_it(load: Load):
    load(FULL_ROW)

    load("client,joined_on,minutes,kit,pauses,goal\nana,2026-01-12,,,,\n")

    ana = Client.objects.get()
    assert (ana.minutes, ana.goal) == (None, "")
    assert (ana.kit.count(), ana.pauses.standing().count()) == (0, 0)


def test_consent_is_attested_once_on_the_clients_own_day(load: Load):
    late_evening_in_utc = datetime(2026, 4, 15, 23, tzinfo=UTC)

    for _ in range(2):
        load("client,joined_on,time_zone\nana,2026-01-12,Pacific/Auckland\n", now=late_evening_in_utc)

    consent = Consent.objects.get()
    assert (consent.source, consent.given_on) == (Consent.Source.COACH, date(2026, 4, 16))
    assert (consent.purpose, consent.version) == (CONSENT_PURPOSE, CONSENT_VERSION)


def test_a_consent_that_was_withdrawn_is_not_attested_again(load: Load):
    load("client,joined_on\nana,2026-01-12\n")
    Consent.objects.update(withdrawn_on=date(2026, 5, 1))

    load("client,joined_on\nana,2026-01-12\n")

    assert [consent.withdrawn_on for consent in Consent.objects.all()] == [date(2026, 5, 1)]


def test_kit_at_home_is_replaced_and_kit_elsewhere_stays(load: Load):
    load('client,joined_on,kit\nana,2026-01-12,"dumbbell: 2-6/2; sandbag: 10"\n')
    Client.objects.get().kit.create(place=KitItem.Place.GYM, implement="barbell", loads_entered="20", loads_g=[20_000])

    report = load('client,joined_on,kit\nana,2026-01-12,"Dumbbell: 2-8/2; kettlebell: 8, 12"\n')

    kit = {(item.place, item.implement): item.loads_g for item in KitItem.objects.all()}
    assert kit == {
        ("gym", "barbell"): [20_000],
        ("home", "dumbbell"): [2_000, 4_000, 6_000, 8_000],
        ("home", "kettlebell"): [8_000, 12_000],
    }
    assert report.changes == [
        "ana: kit Dumbbell: 2-6/2 → 2-8/2 kg",
        "ana: kit kettlebell: none → 8, 12 kg",
        "ana: kit sandbag: gone",
    ]


def test_kit_is_in_the_clients_unit(load: Load):
    load("client,joined_on,unit,kit\nana,2026-01-12,lb,dumbbell: 10\n")

    load("client,joined_on,kit\nana,2026-01-12,dumbbell: 20\n")

    item = KitItem.objects.get()
    assert (item.unit, item.loads_g) == ("lb", [9_072])


def test_pauses_of_the_coach_follow_the_file_and_those_of_the_client_stay(load: Load):
    load("client,joined_on,pauses\nana,2026-01-12,2026-02-02..2026-02-08;2026-03-02..2026-03-08\n")
    by_client = Client.objects.get().pauses.create(
        from_on=date(2026, 3, 20), until_on=date(2026, 3, 21), entered_by=Pause.By.CLIENT
    )

    report = load("client,joined_on,pauses\nana,2026-01-12,2026-03-02..2026-03-08;2026-05-01..2026-05-01\n")

    standing = [(str(pause.from_on), str(pause.until_on)) for pause in Pause.objects.standing()]
    assert standing == [("2026-03-02", "2026-03-08"), ("2026-03-20", "2026-03-21"), ("2026-05-01", "2026-05-01")]
    assert Pause.objects.get(from_on=date(2026, 2, 2)).withdrawn_at == NOW
    assert by_client in Pause.objects.standing()
    assert report.changes == [
        "ana: pause 2026-05-01 to 2026-05-01 added",
        "ana: pause 2026-02-02 to 2026-02-08 withdrawn",
    ]


def test_days_of_pauses_may_be_day_month_year_when_the_column_proves_it(load: Load):
    load("client;joined_on;pauses\nana;2026-01-12;2.3.2026..13.3.2026\n")

    pause = Pause.objects.get()
    assert (pause.from_on, pause.until_on) == (date(2026, 3, 2), date(2026, 3, 13))


def test_one_column_of_the_file_proves_the_order_of_days_for_the_other(load: Load):
    load("client;joined_on;pauses\nana;13.1.2026;2.3.2026..8.3.2026\nbo;2.2.2026;9.3.2026..15.3.2026\n")

    assert Client.objects.get(key="bo").joined_on == date(2026, 2, 2)
    assert Pause.objects.get(client__key="ana").from_on == date(2026, 3, 2)


@pytest.mark.parametrize(
    ("column", "cell", "fault"),
    [
        ("name", "x" * 121, "is longer than 120 characters"),
        ("email", "ana at example", "“ana at example” is no e-mail address"),
        ("time_zone", "Lisbon", "“Lisbon” is no IANA time zone such as Europe/Lisbon"),
        ("unit", "stone", "“stone” is none of kg, lb"),
        ("sends", "daily", "“daily” is none of each, weekly, block"),
        ("minutes", "0", "“0” is less than 1"),
        ("minutes", "half", "“half” is no number"),
        ("kit", "dumbbell: 8; kettlebell: eight", "“eight” is no load such as 8 or 2.5, and no range such as 2-20/2"),
        ("pauses", "2026-02-02", "has a pause that is not written as 2026-02-02..2026-02-08"),
        ("pauses", "2026-02-08..2026-02-02", "has a pause that ends before it begins"),
        ("pauses", "2026-02-30..2026-03-02", "“2026-02-30”, that is no day of the calendar"),
    ],
)
def test_a_cell_that_is_wrong_is_a_fault_and_nothing_is_saved(load: Load, column: str, cell: str, fault: str):
    report = load(f'client,joined_on,{column}\nbo,2026-01-12,\nana,2026-01-12,"{cell}"\n')

    (told,) = faults_of(report)
    assert told.startswith(f"row 3, {column}: ")
    assert fault in told
    assert not Client.objects.exists()


def test_every_fault_of_a_file_is_told(load: Load):
    report = load("client,joined_on,minutes\n,2026-01-12,\nana,,\nbo,soon,x\n")

    assert faults_of(report) == [
        "row 2, client: is empty",
        "row 3, joined_on: is empty",
        "row 4, joined_on: “soon” is no date such as 2026-04-30",
        "row 4, minutes: “x” is no number",
    ]


def test_a_key_twice_in_a_file_is_a_fault(load: Load):
    report = load("client,joined_on\nana,2026-01-12\nAna ,2026-01-12\n")

    assert faults_of(report) == ["row 3, client: “Ana” is in row 2 already"]


def test_a_client_of_another_coach_of_the_studio_is_out_of_reach(load: Load, coach: Coach):
    colleague = CoachFactory(studio=coach.studio, role=Coach.Role.COACH)
    ClientFactory(lead=coach, key="ana")

    report = load("client,joined_on\nana,2026-01-12\n", by=colleague)

    assert faults_of(report) == ["row 2, client: “ana” is the key of a client who is not yours"]


def test_the_same_key_in_another_studio_is_another_client(load: Load, outsider: Coach):
    theirs = ClientFactory(lead=outsider, key="ana", name="Theirs")

    report = load("client,joined_on,name\nana,2026-01-12,Ours\n")

    theirs.refresh_from_db()
    assert (report.created, theirs.name) == (1, "Theirs")


def test_clients_that_stay_as_they_are_cost_no_query_each(load: Load, django_assert_max_num_queries):
    text = "client,joined_on,kit,pauses\n" + "".join(
        f"c{n},2026-01-12,dumbbell: 8,2026-02-02..2026-02-08\n" for n in range(30)
    )
    load(text)

    with django_assert_max_num_queries(6):
        report = load(text)

    assert report.unchanged == 30
