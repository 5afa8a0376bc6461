"""What there is to get at: one of each kind of the lead's, a colleague's and another studio's, each with its words."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any
from uuid import UUID

from allauth.mfa.models import Authenticator
from django.db.models import Model

from coaching.api.tokens import make_token
from coaching.check_ins.models import PackBatch, PackVersion
from coaching.loads import kept_lines, reviewing
from coaching.loads.models import FileInReview, Load, LoadedThing
from coaching.monitoring.finding_ids import finding_id
from coaching.monitoring.models import Flag
from roster.blocks.models import Block, Exercise, PlannedSession
from roster.logs.models import SessionLog
from roster.people.models import Client, Coach
from roster.watching import Thing as Recorded
from tests.coaching.factories import CoachFactory
from tests.isolation.filled import FLAG_KIND, FilledClient
from tests.isolation.grants import read_grants
from tests.isolation.world import World

NOW = datetime(2026, 4, 15, 7, tzinfo=UTC)
COLUMNS = {"north": "lead", "colleagues": "colleague", "south": "elsewhere"}
# Reached by an id of their own through the client whose they are.
OF_CLIENT: dict[str, type[Model]] = {
    "block": Block, "planned session": PlannedSession, "session log": SessionLog, "pack version": PackVersion,
}  # fmt: skip
NO_ID = UUID("00000000-0000-4000-8000-000000000000")

# By which object each table is reached; "nobody": no address shows or changes a row of it.
TABLES: dict[str, str] = {
    "people.Studio": "shelf", "people.Coach": "account", "people.Client": "client",
    "people.Client_shared_with": "client", "people.Limitation": "client", "people.HealthAnswers": "client",
    "people.Consent": "client", "people.Guardian": "client", "people.ViewRecord": "client", "people.KitItem": "client",
    "people.Pause": "client", "people.Note": "client", "people.Contact": "client", "people.Promise": "client",
    "people.CheckIn": "client", "people.CheckInAnswer": "client",
    "blocks.Exercise": "shelf", "blocks.Progression": "shelf", "blocks.Stage": "shelf", "blocks.Block": "client",
    "blocks.PlannedSession": "client", "blocks.PlannedExercise": "client", "logs.Submission": "client",
    "logs.SessionLog": "client", "logs.SetLog": "client", "logs.ExtraWork": "client", "logs.BodyMeasure": "client",
    "logs.WeeklyAnswers": "client", "logs.TechniqueClip": "client", "monitoring.ClientState": "client",
    "monitoring.SessionFact": "client", "monitoring.LogFact": "client", "monitoring.WeekFact": "client",
    "monitoring.ExposureFact": "client", "monitoring.Flag": "client", "monitoring.FlagEvent": "client",
    "loads.Load": "load", "loads.LoadedThing": "load", "loads.KeptSubmission": "load", "loads.FileInReview": "file",
    "check_ins.PackVersion": "client", "check_ins.PackBatch": "batch", "check_ins.PackOfBatch": "batch",
    "account.EmailAddress": "account", "account.EmailConfirmation": "account", "mfa.Authenticator": "account",
    "usersessions.UserSession": "account", "sessions.Session": "account", "api.AccessToken": "account",
    "people.Coach_groups": "nobody", "people.Coach_user_permissions": "nobody", "auth.Permission": "nobody",
    "auth.Group": "nobody", "auth.Group_permissions": "nobody", "contenttypes.ContentType": "nobody",
    "admin.LogEntry": "nobody", "accounts.SharedValue": "nobody", "operation.Probe": "nobody",
}  # fmt: skip


@dataclass(frozen=True)
class Thing:
    """`column` is its column of GRANTS; `words` show nowhere but where it is shown."""

    kind: str
    column: str
    ident: UUID | int
    words: frozenset[str] = frozenset()
    # What an address asks for beside the id.
    beside: dict[str, Any] = field(default_factory=dict, hash=False)


GRANTED = read_grants()


def may(who: str, thing: Thing) -> str:
    return GRANTED[who, thing.column]


def things_of(world: World) -> list[Thing]:
    found = [thing for key, filled in world.clients.items() for thing in _of_client(filled, COLUMNS[key])]
    return [*found, *_of_lead(world)]


def _of_client(filled: FilledClient, whose: str) -> list[Thing]:
    client, flag = filled.client, filled.rows[Flag]
    column, exercise = f"client:{whose}", filled.rows[Exercise]
    shelf = "shelf:elsewhere" if whose == "elsewhere" else "shelf:here"
    of_client = [Thing(kind, column, filled.rows[model].public_id) for kind, model in OF_CLIENT.items()]
    return [
        Thing("client", column, client.public_id, frozenset({filled.word}), {"kind": FLAG_KIND}),
        *of_client,
        Thing("finding", column, finding_id(client.public_id, flag)),
        Thing("exercise", shelf, exercise.public_id, frozenset({filled.studio_word})),
    ]


def _of_lead(world: World) -> list[Thing]:
    """A load and a file that waits, both about a client of the lead, a token, and somebody's passkey."""
    lead, client = world.people["lead"], world.clients["north"].client
    assert lead is not None
    token, _ = make_token(coach=lead, name="milkwort", scopes=["read"], days=30)
    another = CoachFactory(studio=lead.studio, email="pearlwort@example.net")
    passkey = Authenticator.objects.create(
        pk=480_000_001, user=another, type="webauthn", data={"name": "pearlwort", "credential": {}}
    )
    file = waiting_file(lead, "liverwort.csv", log_row(client.key, "liverwort remark"))
    return [
        Thing("load", "load:lead", a_load(lead, client, "spleenwort").public_id, frozenset({"spleenwort"})),
        Thing("batch", "batch:lead", world.clients["north"].rows[PackBatch].public_id),
        Thing("file", "file:lead", file.public_id, frozenset({"liverwort"})),
        Thing("token", "account:lead", token.public_id, frozenset({"milkwort"})),
        Thing("passkey", "account:another", passkey.pk, frozenset({"pearlwort"})),
    ]


def a_load(by: Coach, client: Client, word: str) -> Load:
    """The account of a file that changed the client, as if it had been taken."""
    made = Load.objects.create(
        studio=by.studio, by=by, door=Load.Door.BROWSER, kind="clients", file_name=f"{word}.csv", digest="1" * 64,
        rows=1, created=0, changed=1, unchanged=0, told={"changes": [f"{word}: goal"]}, loaded_at=NOW,
    )  # fmt: skip
    difference: dict[str, Any] = {"changed": {}, "made": {}, "dropped": {}}
    LoadedThing.objects.create(load=made, thing=Recorded.CLIENT, thing_id=client.pk, difference=difference)
    return made


def log_row(key: str, note: str = "") -> dict[str, str]:
    return {"client": key, "performed_on": "2026-04-14", "exercise": "Row", "reps": "8", "note": note}


def waiting_file(coach: Coach, name: str, row: dict[str, str], kind: str = "logs") -> FileInReview:
    """A file of one row that was handed in and looked through."""
    lines = [{"rows": [[1, [*row]], [2, [*row.values()]]]}, {"end": True}]
    file = FileInReview(
        studio=coach.studio, coach=coach, file_name=name, digest=name.ljust(64, "0")[:64], kind=kind,
        lines=kept_lines.pack(lines), received_at=NOW, touched_at=NOW,
    )  # fmt: skip
    reviewing.check(file, NOW)
    return file
