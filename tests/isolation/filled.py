"""A client with a row of every kind, all free texts holding one word: where the word shows, the row was read."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Any

from django.db.models import Model
from django.utils import timezone

from coaching.api.models import Scope
from coaching.api.tokens import make_token
from coaching.check_ins.batches import ask_for_batch
from coaching.check_ins.content import Part, Phrase, Sentence
from coaching.check_ins.edits import Edits
from coaching.check_ins.models import PackOfBatch, PackVersion
from coaching.check_ins.versions import keep_version, mark_given
from coaching.monitoring.models import FlagEvent, Kind, Urgency
from roster.blocks.models import Block, Exercise, Progression, Stage
from roster.logs.models import BodyMeasure, ExtraWork, SessionLog, TechniqueClip, WeeklyAnswers
from roster.people.models import (
    CheckIn,
    CheckInAnswer,
    Client,
    Coach,
    Consent,
    Contact,
    Guardian,
    HealthAnswers,
    KitItem,
    Limitation,
    Note,
    Pause,
    Promise,
    ViewRecord,
)
from tests.coaching.check_ins.packs import MARCH, a_pack
from tests.coaching.factories import (
    MONDAY,
    WEDNESDAY,
    BlockFactory,
    ClientFactory,
    ClientStateFactory,
    ExerciseFactory,
    ExposureFactFactory,
    FlagFactory,
    LogFactFactory,
    PlannedExerciseFactory,
    PlannedSessionFactory,
    SessionFactFactory,
    SessionLogFactory,
    SetLogFactory,
    SubmissionFactory,
    WeekFactFactory,
)

FLAG_KIND = Kind.STALL


@dataclass(frozen=True)
class FilledClient:
    """`word` is in the texts of this client alone, `studio_word` in those of the whole studio."""

    client: Client
    word: str
    studio_word: str
    rows: dict[type[Model], Model]


def fill_client(lead: Coach, word: str, studio_word: str) -> FilledClient:
    rows = [*_person(lead, word)]
    client = rows[0]
    exercise = _shelf(client, studio_word)
    rows += [exercise[0], exercise[1], exercise[2], *_training(client, exercise[0], word)]
    token, _ = make_token(coach=lead, name=f"{word} program", scopes=Scope.values, days=30)
    rows += [client.studio, lead, token, _kept_pack(client, lead, word)]
    rows += _batch_of_packs(client, lead, word)
    return FilledClient(client, word, studio_word, {type(row): row for row in rows})


def _person(lead: Coach, word: str) -> list[Any]:
    client = ClientFactory(
        lead=lead, key=f"{word}.key", name=f"{word} name", email=f"{word}@example.org", phone=f"{word} phone",
        goal=f"{word} goal", goal_noticed_by=f"{word} noticed", ended_reason=f"{word} reason",
    )
    of_client = {"client": client}
    return [
        client,
        KitItem.objects.create(**of_client, place="home", implement=f"{word} bell", loads_entered=f"{word} loads",
                               loads_g=[8000], unit="kg"),
        Limitation.objects.create(**of_client, what=f"{word} knee", from_on=MONDAY, note=f"{word} note"),
        Pause.objects.create(**of_client, from_on=MONDAY - timedelta(weeks=9), until_on=MONDAY - timedelta(weeks=8)),
        Note.objects.create(**of_client, written_by=lead, text=f"{word} note"),
        Contact.objects.create(**of_client, made_by=lead, how="call", made_on=MONDAY, outcome=f"{word} outcome"),
        Promise.objects.create(**of_client, text=f"{word} promise", made_on=MONDAY),
        *_called(client, lead, word),
        HealthAnswers.objects.create(**of_client, asked_on=MONDAY, questions_version=f"{word} 1"[:20], has_yes=True,
                                     cleared_by=f"{word} doctor"),
        Consent.objects.create(**of_client, purpose=f"{word} record", version=f"{word} 1"[:20], given_on=MONDAY,
                               source="coach"),
        Guardian.objects.create(**of_client, name=f"{word} guardian", email=f"{word}@home.example"),
        ViewRecord.objects.create(**of_client, coach=lead, page=f"{word} page"),
    ]  # fmt: skip


def _called(client: Client, lead: Coach, word: str) -> list[Any]:
    held_on = MONDAY - timedelta(weeks=4)
    call = CheckIn.objects.create(
        client=client, due_on=held_on, held_on=held_on, held_by=lead, outcome=f"{word} outcome of a call"
    )
    return [call, CheckInAnswer.objects.create(check_in=call, question="well", text=f"{word} went", noted_by=lead)]


def _kept_pack(client: Client, lead: Coach, word: str) -> PackVersion:
    sentences = (Sentence((Phrase(f"{word} sentence"),)),)
    pack = a_pack(
        client_id=client.public_id, client_name=client.name, period=replace(MARCH, title=f"{word} block"),
        sentences=sentences, questions=(f"{word}?",),
    )  # fmt: skip
    edits = Edits(remarks={Part.FOUND: f"{word} remark"})
    version = keep_version(client=client, composed=pack, edits=edits, after=0, by=lead, now=timezone.now())
    mark_given(version=version, how=PackVersion.How.SENT, to=f"{word} guardian", on=WEDNESDAY, by=lead)
    return version


def _batch_of_packs(client: Client, lead: Coach, word: str) -> list[Any]:
    period = replace(MARCH, title=f"{word} month")
    batch = ask_for_batch(clients=[client], period=period, size="a4", by=lead, now=timezone.now())
    batch.packs.update(state=PackOfBatch.State.FAILED, why=f"{word} why")
    return [batch, batch.packs.get()]


def _shelf(client: Client, word: str) -> tuple[Exercise, Progression, Stage]:
    progression = Progression.objects.create(studio=client.studio, name=f"{word} rounds of {client.pk}")
    exercise = ExerciseFactory(
        studio=client.studio, name=f"{word} lift of {client.pk}", implement=f"{word} bell", regions=[f"{word} knee"],
        cues=[f"{word} cue"], cautions=f"{word} caution", demo_link=f"https://example.org/{word}",
        body_mass_source=f"{word} source",
    )
    return exercise, progression, Stage.objects.create(progression=progression, position=1, sets=3, reps=8, rest_s=75)


def _training(client: Client, exercise: Exercise, word: str) -> list[Any]:
    block = BlockFactory(client=client, label=f"{word} block")
    session = PlannedSessionFactory(block=block, label=f"{word} session")
    planned = PlannedExerciseFactory(
        session=session, exercise=exercise, implement=f"{word} bell", effort=f"{word} effort", band=f"{word} band"
    )
    submission = SubmissionFactory(client=client, payload={"note": f"{word} payload"}, fingerprint=f"{word} print")
    log = SessionLogFactory(
        client=client, submission=submission, planned_session=session, pain=3, pain_region=f"{word} knee",
        note=f"{word} log note", minutes=30, effort=6,
    )
    return [
        block, session, planned, submission, log,
        SetLogFactory(session_log=log, exercise=exercise, swap_reason=f"{word} swap", band=f"{word} band"),
        *_beside_the_sets(log, exercise, word),
        ClientStateFactory(client=client, last_log_on=MONDAY, attended_4_weeks=1, due_4_weeks=1),
        SessionFactFactory(planned_session=session, session_log=log),
        LogFactFactory(session_log=log, planned_session=session),
        WeekFactFactory(client=client, tonnage_kg=480.0, turnout=1.0),
        ExposureFactFactory(planned_exercise=planned, session_log=log, reps_done=f"{word} reps"),
        *_finding(block, exercise, word),
    ]  # fmt: skip


def _beside_the_sets(log: SessionLog, exercise: Exercise, word: str) -> list[Any]:
    client = log.client
    return [
        ExtraWork.objects.create(session_log=log, what=f"{word} walk", minutes=20),
        BodyMeasure.objects.create(client=client, measured_on=MONDAY, what="mass", entered=80, unit="kg",
                                   protocol=f"{word} protocol"),
        WeeklyAnswers.objects.create(client=client, week_start=MONDAY, answers={"line": f"{word} answer"}),
        TechniqueClip.objects.create(client=client, session_log=log, exercise=exercise, file_name=f"{word}.mp4"),
    ]  # fmt: skip


def _finding(block: Block, exercise: Exercise, word: str) -> list[Any]:
    flag = FlagFactory(
        client=block.client, kind=FLAG_KIND, subject=f"{word} lift", exercise=exercise, sentence=f"{word} is short.",
        remark=f"{word} remark", evidence={"columns": ["Day"], "rows": [[f"{word} day"]]}, rule=f"{word} rule",
        clears=f"{word} clears", options=[f"{word} option"],
    )
    event = FlagEvent.objects.create(
        client=block.client, kind=flag.kind, subject=flag.subject, what=FlagEvent.What.OPENED, on=WEDNESDAY,
        urgency=Urgency.WATCH, note=f"{word} event",
    )
    return [flag, event]
