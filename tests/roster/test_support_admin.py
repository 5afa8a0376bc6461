from __future__ import annotations

import pytest
from django.apps import apps
from django.contrib import admin
from django.contrib.auth.models import Permission
from django.urls import reverse

from roster.people.models import Client, Coach
from tests.coaching.factories import ClientFactory, CoachFactory, PlannedSessionFactory, SetLogFactory
from tests.signing_in import browser_of

ROSTER_PAGES = [
    reverse(f"admin:{model._meta.app_label}_{model._meta.model_name}_changelist")
    for model in admin.site._registry
    if model._meta.app_label in {"people", "blocks", "logs"}
]


@pytest.fixture
def client_elsewhere(db: None) -> Client:
    client = ClientFactory(name="Oona Elsewhere", lead__email="lead@elsewhere.example")
    PlannedSessionFactory(block__client=client, block__label="Block Elsewhere", label="Elsewhere")
    SetLogFactory(session_log__client=client, exercise__name="Lift Elsewhere")
    return client


@pytest.fixture
def staff(db: None) -> Coach:
    """Support inside a studio: may look at every table."""
    staff = CoachFactory(is_staff=True, role=Coach.Role.OWNER)
    staff.user_permissions.set(Permission.objects.filter(codename__startswith="view_"))
    return staff


@pytest.mark.parametrize("address", ROSTER_PAGES)
def test_staff_of_a_studio_see_nothing_of_another(client_elsewhere: Client, staff: Coach, address: str) -> None:
    answer = browser_of(staff).get(address)

    assert answer.status_code == 200
    assert "elsewhere" not in answer.content.decode().lower()


def test_staff_see_the_clients_of_their_own_studio(staff: Coach) -> None:
    ClientFactory(lead=staff, name="Bo Lindqvist")

    assert "Bo Lindqvist" in browser_of(staff).get(reverse("admin:people_client_changelist")).content.decode()


def test_staff_without_a_studio_see_nobody(client_elsewhere: Client, staff: Coach) -> None:
    staff.studio = None
    staff.save()

    answers = [browser_of(staff).get(address).content.decode().lower() for address in ROSTER_PAGES]

    assert not any("elsewhere" in answer for answer in answers)


def test_a_superuser_sees_every_studio(client_elsewhere: Client) -> None:
    support = Coach.objects.create_superuser("support@example.org", "a kettle of tea")

    assert "Oona Elsewhere" in browser_of(support).get(reverse("admin:people_client_changelist")).content.decode()


def test_nothing_of_the_record_is_changed_through_this_door(client_elsewhere: Client) -> None:
    support = Coach.objects.create_superuser("support@example.org", "a kettle of tea")
    browser = browser_of(support)
    changeable = {apps.get_model("people", "Coach")}

    for address in ROSTER_PAGES:
        assert browser.get(f"{address}add/").status_code == 403
    for model in set(admin.site._registry) - changeable:
        if model._meta.app_label in {"people", "blocks", "logs"} and (row := model.objects.first()):
            change = reverse(f"admin:{model._meta.app_label}_{model._meta.model_name}_change", args=[row.pk])
            assert browser.post(change, {"name": "Another"}).status_code == 403


def test_a_coach_is_no_support(db: None) -> None:
    answer = browser_of(CoachFactory()).get("/admin/")

    assert answer.headers["Location"].startswith("/admin/login/")
