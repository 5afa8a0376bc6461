"""Rows for tests; what a test doesn't name is plain and true."""

from __future__ import annotations

import uuid
from datetime import date, timedelta

import factory
from django.utils import timezone

from coaching.monitoring.models import (
    ClientState,
    ExposureFact,
    Flag,
    Kind,
    LogFact,
    SessionFact,
    Status,
    Urgency,
    WeekFact,
)
from roster.blocks.models import Block, Exercise, PlannedExercise, PlannedSession
from roster.labels import fold
from roster.logs.models import SessionLog, SetLog, Submission
from roster.mass import LoadKind, MassUnit
from roster.people.models import Client, Coach, Studio

MONDAY = date(2026, 4, 13)
WEDNESDAY = date(2026, 4, 15)


class StudioFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Studio

    name = factory.Sequence(lambda n: f"Studio {n}")


class CoachFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Coach
        skip_postgeneration_save = True

    studio = factory.SubFactory(StudioFactory)
    email = factory.Sequence(lambda n: f"coach{n}@example.org")
    role = Coach.Role.COACH


class ClientFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Client

    lead = factory.SubFactory(CoachFactory)
    studio = factory.SelfAttribute("lead.studio")
    key = factory.Sequence(lambda n: f"c{n:03}")
    key_folded = factory.LazyAttribute(lambda client: fold(client.key))
    name = factory.Sequence(lambda n: f"Client {n:03}")
    joined_on = MONDAY - timedelta(weeks=26)


class ExerciseFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Exercise

    studio = factory.SubFactory(StudioFactory)
    name = factory.Sequence(lambda n: f"Exercise {n}")
    name_folded = factory.LazyAttribute(lambda exercise: fold(exercise.name))


class BlockFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Block

    client = factory.SubFactory(ClientFactory)
    label = factory.Sequence(lambda n: f"Block {n}")
    label_folded = factory.LazyAttribute(lambda block: fold(block.label))
    starts_on = MONDAY
    weeks = 4
    published_at = factory.LazyFunction(timezone.now)


class PlannedSessionFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = PlannedSession

    block = factory.SubFactory(BlockFactory)
    week = 1
    label = factory.Sequence(lambda n: f"S{n}")
    label_folded = factory.LazyAttribute(lambda session: fold(session.label))
    suggested_on = factory.LazyAttribute(lambda session: session.block.starts_on + timedelta(weeks=session.week - 1))


class PlannedExerciseFactory(factory.django.DjangoModelFactory):
    """Three sets of eight at 20 kg, 75 s rest."""

    class Meta:
        model = PlannedExercise

    session = factory.SubFactory(PlannedSessionFactory)
    position = 1
    exercise = factory.SubFactory(ExerciseFactory, studio=factory.SelfAttribute("..session.block.client.studio"))
    slot = "upper"
    sets = 3
    reps = 8
    rest_s = 75
    load_kind = LoadKind.MASS
    load_unit = MassUnit.KILOGRAM
    load_g = 20_000
    load_entered = factory.LazyAttribute(lambda planned: None if planned.load_g is None else planned.load_g / 1000)


class SubmissionFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Submission

    client = factory.SubFactory(ClientFactory)
    uuid = factory.LazyFunction(uuid.uuid4)
    door = Submission.Door.FILE
    payload = factory.LazyFunction(dict)
    fingerprint = "0" * 64


class SessionLogFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = SessionLog

    client = factory.SubFactory(ClientFactory)
    submission = factory.SubFactory(SubmissionFactory, client=factory.SelfAttribute("..client"))
    performed_on = MONDAY


class SetLogFactory(factory.django.DjangoModelFactory):
    """Eight reps at 20 kg."""

    class Meta:
        model = SetLog

    session_log = factory.SubFactory(SessionLogFactory)
    exercise = factory.SubFactory(ExerciseFactory, studio=factory.SelfAttribute("..session_log.client.studio"))
    position = factory.Sequence(lambda n: n + 1)
    number = factory.SelfAttribute("position")
    reps = 8
    load_kind = LoadKind.MASS
    load_unit = MassUnit.KILOGRAM
    load_g = 20_000
    load_entered = factory.LazyAttribute(lambda one: None if one.load_g is None else one.load_g / 1000)


class ClientStateFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = ClientState

    client = factory.SubFactory(ClientFactory)
    as_of = WEDNESDAY


class SessionFactFactory(factory.django.DjangoModelFactory):
    """Done as written, on the suggested day."""

    class Meta:
        model = SessionFact

    planned_session = factory.SubFactory(PlannedSessionFactory)
    client = factory.SelfAttribute("planned_session.block.client")
    week_start = factory.LazyAttribute(
        lambda fact: fact.planned_session.suggested_on - timedelta(days=fact.planned_session.suggested_on.weekday())
    )
    status = Status.DONE
    set_completion = 1.0
    done_later = False
    performed_on = factory.SelfAttribute("planned_session.suggested_on")
    counted_sets = 9
    planned_sets = 9


class LogFactFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = LogFact

    session_log = factory.SubFactory(SessionLogFactory)
    client = factory.SelfAttribute("session_log.client")
    performed_on = factory.SelfAttribute("session_log.performed_on")
    standing = LogFact.Standing.FIRST
    working_sets = 9
    tonnage_g = 1_000_000


class WeekFactFactory(factory.django.DjangoModelFactory):
    """Three of three sessions done."""

    class Meta:
        model = WeekFact

    client = factory.SubFactory(ClientFactory)
    week_start = MONDAY
    due = 3
    done = 3
    partial = 0
    told = 0
    missed = 0
    overdue = 0
    awaited = 0
    not_due = 0


class ExposureFactFactory(factory.django.DjangoModelFactory):
    """Met: three sets of eight at the load asked."""

    class Meta:
        model = ExposureFact

    planned_exercise = factory.SubFactory(PlannedExerciseFactory)
    client = factory.SelfAttribute("planned_exercise.session.block.client")
    exercise = factory.SelfAttribute("planned_exercise.exercise")
    performed_on = factory.SelfAttribute("planned_exercise.session.suggested_on")
    session_log = factory.SubFactory(
        SessionLogFactory,
        client=factory.SelfAttribute("..client"),
        performed_on=factory.SelfAttribute("..performed_on"),
    )
    ordinal = factory.Sequence(lambda n: n)
    working_sets = 3
    sets_met = 3
    met = True
    reason = ""
    reps_done = "8-8-8"
    top_load_g = factory.SelfAttribute("planned_exercise.load_g")
    best_e1rm_kg = 25.3
    tonnage_g = 480_000
    landing = 0


class FlagFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Flag

    client = factory.SubFactory(ClientFactory)
    kind = Kind.STALL
    urgency = Urgency.WATCH
    opened_on = WEDNESDAY
    sentence = "Goblet squat short twice at 18 kg."
    rule = "The last two exposures on this landing short."
    clears = "The next exposure that is met."
