"""What is read of the record to assess clients, by their ids. Rows come in the order of their ids: one order for every
database and number of clients, so that sums of fractions are the same to the last digit.
"""

from __future__ import annotations

from coaching.databases.compiled import CompiledRead
from coaching.monitoring.models import FlagEvent, Kind
from roster.blocks.models import Exercise, PlannedExercise, PlannedSession
from roster.logs.models import BodyMeasure, SessionLog, SetLog
from roster.people.models import CheckIn, Client, Pause

CLIENTS = CompiledRead(
    lambda ids: Client.objects.filter(pk__in=ids).order_by("pk"),
    ["pk", "joined_on", "sends", "minutes", "state", "studio__check_ins_from", "next_call_on"],
)
CHECK_INS = CompiledRead(
    lambda ids: CheckIn.objects.held().filter(client_id__in=ids).order_by("pk"), ["client_id", "due_on", "held_on"]
)
PAUSES = CompiledRead(
    lambda ids: Pause.objects.standing().filter(client_id__in=ids).order_by("pk"),
    ["client_id", "from_on", "until_on"],
)
PLANNED_SESSIONS = CompiledRead(
    lambda ids: PlannedSession.objects.filter(
        block__client_id__in=ids, block__published_at__isnull=False
    ).order_by("pk"),
    ["pk", "block__client_id", "block_id", "week", "suggested_on", "block__starts_on", "block__weeks"],
)
PLANNED_EXERCISES = CompiledRead(
    lambda ids: PlannedExercise.objects.filter(
        session__block__client_id__in=ids, session__block__published_at__isnull=False
    ).order_by("pk"),
    ["pk", "session_id", "position", "exercise_id", "sets", "reps", "set_targets", "load_kind", "load_g", "band",
     "implements_used", "is_each_side", "measure", "rest_s", "changed", "tempo_s"],
)
SESSION_LOGS = CompiledRead(
    lambda ids: SessionLog.objects.filter(client_id__in=ids).order_by("pk"),
    ["pk", "client_id", "performed_on", "planned_session_id", "has_details", "minutes", "effort", "pain",
     "pain_next_morning", "has_alarm_symptom", "pain_region"],
)
SET_LOGS = CompiledRead(
    lambda ids: SetLog.objects.filter(session_log__client_id__in=ids).order_by("pk"),
    ["session_log_id", "position", "number", "exercise_id", "asked_id", "reps", "measure", "load_kind", "load_g",
     "band", "rest_s", "is_warm_up", "reps_left"],
)
# By the ids of exercises.
EXERCISES = CompiledRead(
    lambda ids: Exercise.objects.filter(pk__in=ids).order_by("pk"),
    ["pk", "implements_used", "is_each_side", "regions", "body_mass_share"],
)
BODY_MASSES = CompiledRead(
    lambda ids: BodyMeasure.objects.filter(client_id__in=ids, what=BodyMeasure.What.MASS),
    ["client_id", "measured_on", "entered", "unit"],
)
PAIN_CLOSINGS = CompiledRead(
    lambda ids: FlagEvent.objects.filter(
        client_id__in=ids, kind=Kind.PAIN, what=FlagEvent.What.CLOSED
    ).order_by("on", "pk"),
    ["client_id", "on", "at"],
)
