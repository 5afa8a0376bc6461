"""Nothing that is so of others changes what one sees, or what one does.

ASVS 5.0 8.2.2 (whose it is), 8.4.1 (studios apart).
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from types import SimpleNamespace

from coaching.demo import making
from coaching.demo.memory import DemoMemory
from coaching.loads.models import FileInReview, Load
from coaching.monitoring.models import ClientState, Flag, FlagEvent, Kind, LogFact, Urgency
from roster.people.models import Client, Coach, Contact, Pause, Promise
from tests.coaching.factories import (
    MONDAY,
    WEDNESDAY,
    ClientFactory,
    ClientStateFactory,
    CoachFactory,
    FlagFactory,
    LogFactFactory,
    PlannedExerciseFactory,
    PlannedSessionFactory,
    SessionLogFactory,
    StudioFactory,
    SubmissionFactory,
)
from tests.isolation.asking import FORM_TOKEN
from tests.isolation.beside import person, taken_back
from tests.isolation.filled import FLAG_KIND
from tests.isolation.grants import Caller
from tests.isolation.walking import LISTS, Walk

COLLEAGUE = Caller("colleague")
PAGES = ("/", "/turnout/", "/turnout/?show=quiet", "/clients/", "/?as_of=2026-04-14", "/turnout/?as_of=2026-04-14")


def others_change_nothing(walk: Walk) -> Iterator[str]:
    """The pages of a coach, whatever else becomes of the clients of others."""
    lead = person(walk, "colleague")
    with taken_back(walk):
        # Somebody of whom nothing is known: there is most room for what is known of others.
        fresh = ClientFactory(lead=lead, name="Fresh", joined_on=MONDAY)
        ClientStateFactory(client=fresh)
        before = _pages(walk, fresh)
        for key in ("north", "south"):
            _stir_up(walk.asking.world.clients[key].client)
        after = _pages(walk, fresh)
        yield from (f"{address} of the colleague changes with others" for address in before
                    if before[address] != after[address])  # fmt: skip


def _pages(walk: Walk, fresh: Client) -> dict[str, str]:
    own = walk.asking.world.clients["colleagues"].client
    stories = [f"/clients/{client.public_id}/{asked}" for client in (own, fresh) for asked in ("", "?as_of=2026-04-14")]
    lists = [f"/api/v1/{name}/?{asked}" for name in LISTS for asked in ("", "as_of=2026-04-14")]
    return {
        address: FORM_TOKEN.sub("", walk.asking(COLLEAGUE, "GET", address).body)
        for address in [*PAGES, *stories, *lists]
    }


def _stir_up(client: Client) -> None:
    """More of everything that lists and stories tell, yesterday, today and in the weeks around."""
    ClientState.objects.filter(client=client).update(
        attended_4_weeks=37, due_4_weeks=41, attended_12_weeks=38, due_12_weeks=43, last_log_on=MONDAY
    )
    Contact.objects.create(client=client, how="met", made_on=WEDNESDAY, outcome="a word")
    Promise.objects.create(client=client, text="a promise", made_on=WEDNESDAY)
    Pause.objects.create(client=client, from_on=MONDAY, until_on=MONDAY + timedelta(days=20))
    for weeks in (-1, 0, 1, 3):
        day = MONDAY + timedelta(weeks=weeks, days=1)
        session = PlannedSessionFactory(block=client.blocks.get(), label=f"more {weeks}", suggested_on=day)
        PlannedExerciseFactory(session=session, exercise=client.flags.get().exercise)
    log = SessionLogFactory(client=client, submission=SubmissionFactory(client=client), performed_on=WEDNESDAY)
    LogFactFactory(session_log=log, standing=LogFact.Standing.EXTRA)
    FlagEvent.objects.create(
        client=client, kind=Kind.PAIN, subject="knee", what=FlagEvent.What.OPENED, on=WEDNESDAY, urgency=Urgency.NOW
    )
    FlagFactory(client=client, kind=Kind.PAIN, subject="knee", urgency=Urgency.NOW)


def a_short_page_begins_with_ones_own(walk: Walk) -> Iterator[str]:
    """What others have takes no place on a page."""
    for name in LISTS:
        whole, first = (
            json.loads(walk.asking(COLLEAGUE, "GET", f"/api/v1/{name}/{asked}").body)["results"]
            for asked in ("", "?limit=1")
        )
        if first != whole[:1] or not whole:
            yield f"{name}: the first page is not the first of the whole"


def an_act_reaches_ones_own_finding(walk: Walk) -> Iterator[str]:
    """A subject of somebody else's finding, sent to one's own client's address."""
    world = walk.asking.world
    north, other = world.clients["north"], world.clients["colleagues"]
    with taken_back(walk):
        address = f"/clients/{north.client.public_id}/findings/{FLAG_KIND.value}/seen/"
        form = {"subject": other.rows[Flag].subject, "text": "a word"}
        walk.asking(Caller("lead"), "POST", address, form, keep=True)
        if Flag.objects.get(pk=other.rows[Flag].pk).seen_on:
            yield "another's finding is marked as seen"
        walk.asking(Caller("lead"), "POST", address, form | {"subject": north.rows[Flag].subject}, keep=True)
        if not Flag.objects.get(pk=north.rows[Flag].pk).seen_on:
            yield "one's own finding is not marked as seen"


def an_act_is_about_ones_own_day(walk: Walk) -> Iterator[str]:
    """That others' facts stand as at today says nothing of this client's, which are computed anew."""
    north = walk.asking.world.clients["north"]
    with taken_back(walk):
        ClientState.objects.filter(client=north.client).update(as_of=WEDNESDAY - timedelta(days=1))
        address = f"/clients/{north.client.public_id}/findings/{FLAG_KIND.value}/seen/"
        walk.asking(Caller("lead"), "POST", address, {"subject": north.rows[Flag].subject}, keep=True)
        if ClientState.objects.get(client=north.client).as_of != WEDNESDAY:
            yield "an act is taken on the facts of the day before"


def pain_waits_for_ones_own_contact(walk: Walk) -> Iterator[str]:
    world = walk.asking.world
    north = world.clients["north"].client
    with taken_back(walk):
        Contact.objects.all().delete()
        Contact.objects.create(client=world.clients["colleagues"].client, how="call", made_on=WEDNESDAY)
        flag = FlagFactory(client=north, kind=Kind.PAIN, subject="knee", urgency=Urgency.NOW)
        address = f"/clients/{north.public_id}/findings/{Kind.PAIN.value}/put-aside/"
        form = {"subject": "knee", "until": str(WEDNESDAY + timedelta(days=1))}
        walk.asking(Caller("lead"), "POST", address, form, keep=True)
        if Flag.objects.get(pk=flag.pk).put_aside_until:
            yield "pain is put aside with a contact to somebody else"


def whoever_changes_studios_leaves_everything_behind(walk: Walk) -> Iterator[str]:
    lead, north = person(walk, "lead"), walk.asking.world.clients["north"]
    with taken_back(walk):
        Coach.objects.filter(pk=lead.pk).update(studio=person(walk, "owner elsewhere").studio)
        moved = Coach.objects.get(pk=lead.pk)
        for model in (Client, Load, FileInReview):
            if model.objects.visible_to(moved).filter(studio=north.client.studio).exists():
                yield f"{model.__name__} of the studio before is seen"


def who_is_let_go_reaches_nothing(walk: Walk) -> Iterator[str]:
    """Before any page: the rules themselves give nothing to somebody who may not sign in."""
    for who in ("disabled lead", "support", "assistant"):
        for model in (Load, FileInReview):
            if model.objects.visible_to(person(walk, who)).exists():
                yield f"{who}: the rule of {model.__name__} gives something"


def nobody_is_told_that_there_are_clients(walk: Walk) -> Iterator[str]:
    """A desk without clients says so, however many others have."""
    for who in ("coach elsewhere", "support"):
        full = [FORM_TOKEN.sub("", walk.asking(Caller(who), "GET", address).body) for address in PAGES]
        with taken_back(walk):
            Load.objects.all().delete()
            Client.objects.all().delete()
            empty = [FORM_TOKEN.sub("", walk.asking(Caller(who), "GET", address).body) for address in PAGES]
        yield from (f"{who}: {address} tells that others have clients" for address, one, other
                    in zip(PAGES, full, empty, strict=True) if one != other)  # fmt: skip


def the_demo_keeps_to_its_studio(walk: Walk) -> Iterator[str]:
    """The invented studio beside a real one: neither hinders it, nor is changed by it."""
    with taken_back(walk):
        studio = StudioFactory()
        owner, coach, assistant = (CoachFactory(studio=studio, role=role) for role in ("owner", "coach", "assistant"))
        wanted = DemoMemory(seed=1, clients=1, weeks=1, staged_for=WEDNESDAY)
        if making._memory(wanted, Path("nowhere"), owner, WEDNESDAY) is not wanted:
            yield "the demo takes another studio's clients for its own"
        own = [ClientFactory(lead=owner), ClientFactory(lead=owner)]
        # Whom the demo's cautions would be written to, if it took them for its own.
        ClientFactory(lead=person(walk, "owner elsewhere"), joined_on=MONDAY - timedelta(weeks=99))
        before = _of_others(studio.pk)
        logs = [{"client": own[0].key, "performed_on": "2026-04-14", "exercise": "Row", "reps": "8", "load": "20",
                 "pain": ""}]  # fmt: skip
        making._settle_in(owner, coach, assistant, SimpleNamespace(truth=[], logs=logs), date(2026, 4, 15))
        if _of_others(studio.pk) != before:
            yield "the demo changes another studio's clients"
        if not Contact.objects.filter(client__in=own).exists() or not FileInReview.objects.filter(coach=owner).exists():
            yield "the demo is not furnished because another studio is"


def _of_others(studio_id: int) -> list[object]:
    others = Client.objects.exclude(studio_id=studio_id)
    shared = Client.shared_with.through.objects.filter(client__in=others)
    limitations = others.values_list("pk", "limitations__pk")
    return [*others.order_by("pk").values_list(), *shared.order_by("pk").values_list(), *limitations.order_by()]


CHECKS = [
    others_change_nothing, a_short_page_begins_with_ones_own, an_act_reaches_ones_own_finding,
    an_act_is_about_ones_own_day, pain_waits_for_ones_own_contact, whoever_changes_studios_leaves_everything_behind,
    who_is_let_go_reaches_nothing, nobody_is_told_that_there_are_clients, the_demo_keeps_to_its_studio,
]  # fmt: skip
