"""Whose things are where no address names them: in files, exports, commands, lists of sessions, at the side door.

ASVS 5.0 8.2.2 (whose it is), 8.4.1 (studios apart).
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from io import StringIO

from allauth.mfa.models import Authenticator
from allauth.mfa.totp.internal import auth as totp
from allauth.usersessions.models import UserSession
from django.contrib.auth.models import Group, Permission
from django.core.files.uploadedfile import SimpleUploadedFile
from django.core.management import CommandError, call_command
from django.db import transaction
from django.db.models import Model

from coaching.loads.incoming import take_in
from coaching.loads.models import FileInReview
from coaching.loads.reviewing import confirm
from coaching.monitoring.fact_shapes import COLUMNS as TABLES_EXPORTED
from coaching.monitoring.models import ClientState
from roster.blocks.models import Block, Exercise
from roster.logs.models import SetLog
from roster.people.models import Client, Coach, Note, ViewRecord
from tests.coaching.factories import CoachFactory
from tests.isolation.grants import Caller
from tests.isolation.objects import COLUMNS, GRANTED, NOW, a_load, log_row, waiting_file
from tests.isolation.routes import admin_tables, table_address
from tests.isolation.walking import LISTS, Walk

HERE = "fernmoss studio"
IN_ADDRESSES = {"client": "clients", "block": "blocks", "planned session": "planned-sessions",
                "session log": "session-logs", "finding": "flags"}  # fmt: skip
Check = Callable[[Walk], Iterator[str]]


@contextmanager
def taken_back(walk: Walk) -> Iterator[None]:
    """Whatever is changed, and who signed in meanwhile."""
    ways = dict(walk.asking.ways)
    with transaction.atomic():
        yield
        transaction.set_rollback(True)
    walk.asking.ways = ways


def person(walk: Walk, who: str) -> Coach:
    found = walk.asking.world.people[who]
    assert found is not None
    return found


def row_of(kind: str, key: str) -> dict[str, str]:
    if kind == "logs":
        return log_row(key)
    if kind == "blocks":
        return {"client": key, "block": "New", "starts_on": "2026-04-20", "week": "1", "day": "mon", "exercise": "Row",
                "sets": "3", "reps": "8"}  # fmt: skip
    return {"client": key, "name": "Another Name", "joined_on": "2026-04-01"}


def the_rules_themselves(walk: Walk) -> Iterator[str]:
    """Of rows that belong to a client: those of whom one may see, and to change those of whom one may change."""
    for who, coach in walk.asking.world.people.items():
        if coach is None:
            continue
        for key, filled in walk.asking.world.clients.items():
            right = GRANTED[who, f"client:{COLUMNS[key]}"]
            for model in (Note, Block, Client):
                row = filled.rows[model]
                if model.objects.visible_to(coach).filter(pk=row.pk).exists() != (right != "-"):
                    yield f"{who}: {model.__name__} of {key} is seen otherwise than the tables say"
                if model.objects.changeable_by(coach).filter(pk=row.pk).exists() != (right == "change"):
                    yield f"{who}: {model.__name__} of {key} is changed otherwise than the tables say"


def files_about_others(walk: Walk) -> Iterator[str]:
    """A file reaches whom its coach may change, and says of others what it says of nobody."""
    for who in ("colleague", "assistant", "owner elsewhere", "coach elsewhere"):
        for kind in ("logs", "blocks"):
            told = {key: _faults(walk, who, kind, key) for key in ("quillwort.key", "nobody.key")}
            if not told["quillwort.key"] or told["quillwort.key"] != told["nobody.key"]:
                yield f"{who}: a file of {kind} reaches another's client: {told}"
    for who in ("colleague", "assistant"):
        if not _faults(walk, who, "clients", "quillwort.key"):
            yield f"{who}: a file of clients changes another's client"
    if _faults(walk, "owner elsewhere", "clients", "quillwort.key"):
        yield "a key of another studio is not free in one's own"


def _faults(walk: Walk, who: str, kind: str, key: str) -> str:
    with taken_back(walk):
        file = waiting_file(person(walk, who), f"{who} {kind} {key}", row_of(kind, key), kind)
        return str(file.faults).replace(key, "") if file.faults else ""


def files_stay_in_their_studio(walk: Walk) -> Iterator[str]:
    """A file that is taken changes nothing of another studio, though both use the same key, name and label."""
    world = walk.asking.world
    south, north = world.clients["south"], world.clients["north"]
    shared_name = north.rows[Exercise].name
    with taken_back(walk):
        owner = person(walk, "owner elsewhere")
        before = list(Client.objects.filter(studio=north.client.studio).values())
        for kind, row in (("clients", row_of("clients", "quillwort.key")),
                          ("logs", log_row(south.client.key) | {"exercise": shared_name})):  # fmt: skip
            file = waiting_file(owner, f"south {kind}", row, kind)
            confirm(file, by=owner, version=file.version, now=NOW)
        if list(Client.objects.filter(studio=north.client.studio).values()) != before:
            yield "a file of clients changed another studio's client"
        studios = {one.exercise.studio_id for one in SetLog.objects.filter(session_log__client=south.client)}
        if studios != {owner.studio_id}:
            yield "a file of logs uses another studio's exercise"


def exports(walk: Walk) -> Iterator[str]:
    for table in TABLES_EXPORTED:
        out = StringIO()
        call_command("export", table, studio=HERE, stdout=out)
        if "bladderwort" in out.getvalue() or "bogmoss" in out.getvalue():
            yield f"the export of {table} shows another studio"
        try:
            call_command("export", table, studio=HERE, client="bladderwort.key", stdout=StringIO())
            yield f"the export of {table} knows another studio's client"
        except CommandError:
            pass


def recomputing(walk: Walk) -> Iterator[str]:
    south = walk.asking.world.clients["south"].client
    with taken_back(walk):
        call_command("reassess", studio=HERE, as_of=date(2026, 4, 14), stderr=StringIO())
        if not ClientState.objects.filter(client=south, as_of=NOW.date()).exists():
            yield "one studio's facts were computed anew for another"


def sessions(walk: Walk) -> Iterator[str]:
    """Where somebody is signed in is shown to, and ended by, themselves."""
    lead = person(walk, "lead")
    cookie, _ = walk.asking.way_of(Caller("lead"))
    with taken_back(walk):
        row = UserSession.objects.create(user=lead, ip="192.0.2.77", user_agent="duckweed", session_key=cookie)
        for who in ("colleague", "owner", "owner elsewhere", "support"):
            if "192.0.2.77" in walk.asking(Caller(who), "GET", "/account/sessions/").body:
                yield f"{who} sees where the lead is signed in"
            with transaction.atomic():
                answer = walk.asking(Caller(who), "POST", "/account/sessions/end/", {"session": str(row.pk)}, keep=True)
                if answer.status != 302 or not UserSession.objects.filter(pk=row.pk).exists():
                    yield f"{who} ends the lead's session"
                transaction.set_rollback(True)
        if "192.0.2.77" not in walk.asking(Caller("lead"), "GET", "/account/sessions/").body:
            yield "the lead does not see where they are signed in"


def the_side_door(walk: Walk) -> Iterator[str]:
    """Staff see in lists what they would at the desk, and of the studio its people and its shelf.

    A superuser, whom only somebody at the machine itself can make, sees all tables there; at the desk nothing.
    """
    people = walk.asking.world.people
    hidden = {
        "staff": ("quillwort", "hornwort", "bladderwort", "bogmoss"),
        "staff without a studio": ("wort", "moss", "@example.org"),
    }
    with taken_back(walk):
        people["staff"] = CoachFactory(studio=person(walk, "owner").studio, is_staff=True)
        people["staff without a studio"] = CoachFactory(studio=None, is_staff=True, role=Coach.Role.OWNER)
        for who, words in hidden.items():
            one = person(walk, who)
            one.user_permissions.set(Permission.objects.exclude(content_type__app_label="auth"))
            for model in admin_tables():
                if model is not Group:
                    yield from _shown_in_a_list(walk, who, model, words, one.email)
        del people["staff"], people["staff without a studio"]


def _shown_in_a_list(
    walk: Walk, who: str, model: type[Model], words: tuple[str, ...], own_email: str
) -> Iterator[str]:
    answer = walk.asking(Caller(who), "GET", f"/{table_address(model)}")
    if answer.status != 200:
        yield f"{who}: {model.__name__} answers {answer.status}"
    yield from (f"{who}: {model.__name__} shows {word}" for word in words if word in answer.body.replace(own_email, ""))


def handed_in_twice(walk: Walk) -> Iterator[str]:
    """The same file by another coach is another file, and a load of the same file by others is not told of."""
    world = walk.asking.world
    lead, colleague = person(walk, "lead"), person(walk, "colleague")
    with taken_back(walk):
        file = FileInReview.objects.get(coach=lead)
        text = b"client,performed_on,exercise,reps\nquillwort.key,2026-04-14,Row,8\n"
        first = take_in(SimpleUploadedFile("a.csv", text), lead, NOW)
        second = take_in(SimpleUploadedFile("b.csv", text), colleague, NOW)
        if first.pk == second.pk or second.coach_id != colleague.pk:
            yield "a file handed in by another coach is the same file"
        for by, word in (("colleague", "feverwort"), ("owner elsewhere", "figwort")):
            made = a_load(person(walk, by), world.clients["south"].client, word)
            made.digest, made.loaded_at = file.digest, NOW + timedelta(minutes=1) * (by == "owner elsewhere")
            made.save()
        page = walk.asking(Caller("lead"), "GET", f"/files/{file.public_id}/").body
        yield from (f"the lead's file shows {word}" for word in ("feverwort", "figwort") if word in page)
        if "since this file was checked" in page:
            yield "a file is told of what another studio loaded"


def after_a_handover(walk: Walk) -> Iterator[str]:
    """The account of a load tells nothing of clients who are no longer its coach's, nor of loads by others."""
    world, lead = walk.asking.world, person(walk, "lead")
    with taken_back(walk):
        mine = a_load(lead, world.clients["colleagues"].client, "spleenwort")
        mine.told = {"changes": ["hornwort: goal"]}
        mine.save()
        kept = a_load(lead, world.clients["north"].client, "sandwort")
        a_load(person(walk, "colleague"), world.clients["north"].client, "feverwort")
        pages = [
            walk.asking(Caller("lead"), "GET", f"/loads/{load.public_id}/{end}").body
            for load in (mine, kept) for end in ("", "undo/")
        ]  # fmt: skip
        yield from (f"a load shows {word}" for page in pages for word in ("hornwort", "feverwort") if word in page)
        if "Later files that others loaded" not in pages[3]:
            yield "that another's load stands in the way is not said"
        answer = walk.asking(Caller("lead"), "POST", f"/loads/{mine.public_id}/undo/now/", keep=True)
        mine.refresh_from_db()
        if answer.status != 302 or mine.undone_at:
            yield "a load is undone though its client was handed over"


def cursors_and_states(walk: Walk) -> Iterator[str]:
    """Where somebody's page ended, and the state in which they read something, open nothing to anybody else."""
    owner, colleague = Caller("owner"), Caller("colleague")
    for name in LISTS:
        following = json.loads(walk.asking(owner, "GET", f"/api/v1/{name}/?limit=1").body).get("next")
        if following:
            walk.check_words(colleague, f"the owner's cursor of {name}", walk.asking(colleague, "GET", following))
    for thing in walk.things:
        if thing.column == "client:lead" and thing.kind in IN_ADDRESSES:
            address = f"/api/v1/{IN_ADDRESSES[thing.kind]}/{thing.ident}/"
            tag = walk.asking(owner, "GET", address).headers["ETag"]
            for condition in ({"if-none-match": tag}, {"if-none-match": "*"}, {"if-match": tag}):
                answer = walk.asking(colleague, "GET", address, headers=condition)
                if answer.status != 404:
                    yield f"the colleague gets {answer.status} of {thing.kind} with {condition}"
    yield from walk.leaks


def who_looked(walk: Walk) -> Iterator[str]:
    """That one coach was shown somebody's health is no reason to leave out the next."""
    log = next(one for one in walk.things if (one.kind, one.column) == ("session log", "client:lead"))
    with taken_back(walk):
        for who in ("owner", "sharing coach"):
            walk.asking(Caller(who), "GET", f"/api/v1/session-logs/{log.ident}/", keep=True)
            if not ViewRecord.objects.filter(coach=person(walk, who), page__startswith="api").exists():
                yield f"that {who} looked is not recorded"


def ones_own_app(walk: Walk) -> Iterator[str]:
    """Setting up a second factor is about one's own, whoever else has one."""
    with taken_back(walk):
        for who in ("colleague", "owner"):
            Authenticator.objects.create(user=person(walk, who), type="totp", data={"secret": ""})
        page = walk.asking(Caller("lead"), "GET", "/account/app/add/", keep=True).body
        secret = page.split('class="secret">')[1].split("<")[0]
        code = totp.format_hotp_value(totp.hotp_value(secret, next(totp.yield_hotp_counters_from_time())))
        answer = walk.asking(Caller("lead"), "POST", "/account/app/add/", {"code": code}, keep=True)
        if answer.status != 302 or not Authenticator.objects.filter(user=person(walk, "lead"), type="totp").exists():
            yield f"the lead's own app is not set up: {answer.status}"


CHECKS: list[Check] = [
    the_rules_themselves, files_about_others, files_stay_in_their_studio, exports, recomputing, sessions,
    the_side_door, handed_in_twice, after_a_handover, cursors_and_states, who_looked, ones_own_app,
]  # fmt: skip
