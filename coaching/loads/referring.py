"""What refers to a thing of the record from outside of it, and would be lost, or left hanging, without it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Any

from django.db.models import Model, Q, QuerySet

from coaching.loads.done import Done
from coaching.loads.snapshots import BELONGING
from coaching.monitoring.models import FlagEvent
from roster.batches import in_batches
from roster.blocks.models import PlannedExercise
from roster.logs.models import SetLog, Submission, TechniqueClip
from roster.people.models import ViewRecord
from roster.watching import Thing

# Facts and findings are computed anew; what a coach did about one is not.
COMPUTED_APP = FlagEvent._meta.app_label
Counts = dict[int, Counter[str]]


def referring(thing: Thing, ids: Iterable[int]) -> Counts:
    """By thing, how many rows of which kind refer to it or to what belongs to it."""
    found: Counts = {}
    for batch in in_batches(ids):
        for model, path in BELONGING[thing]:
            owners = dict(model._default_manager.filter(**{f"{path}__in": batch}).values_list("pk", path))
            _add(found, referring_to_rows(thing, model, owners))
    return found


def referring_to_rows(thing: Thing, model: type[Model], owners: Mapping[int, int]) -> Counts:
    """The same for some rows that belong to things, each given with the thing that owns it."""
    found: Counts = {}
    own_tables = {own for own, _ in BELONGING[thing]}
    for relation in model._meta.related_objects:
        if relation.related_model in own_tables:
            continue
        for batch in in_batches(owners):
            rows = relation.related_model._default_manager.filter(**{f"{relation.field.name}__in": batch})
            for pk in _that_count(rows).values_list(relation.field.attname, flat=True):
                found.setdefault(owners[pk], Counter())[_name(relation.related_model)] += 1
    return found


def _that_count(rows: QuerySet[Any]) -> QuerySet[Any]:
    """Without what is computed, and what goes with a client and is no loss."""
    if rows.model is FlagEvent:
        return rows.filter(by__isnull=False)
    if rows.model is Submission:
        # Kept apart when their client goes.
        return rows.exclude(verdict=Submission.Verdict.WITHDRAWN)
    # Who looked, looked at what is gone.
    is_no_loss = rows.model is ViewRecord or rows.model._meta.app_label == COMPUTED_APP
    return rows.none() if is_no_loss else rows


def _name(model: type[Model]) -> str:
    return str(model._meta.verbose_name)


def _add(found: Counts, more: Counts) -> None:
    for pk, counts in more.items():
        found.setdefault(pk, Counter()).update(counts)


def exercises_used_elsewhere(done: Done) -> set[int]:
    """Of the exercises that a load made, those that something other than this load uses."""
    used: set[int] = set()
    own_logs, own_blocks = set(done.touched(Thing.LOG)), set(done.touched(Thing.BLOCK))
    for batch in in_batches(done.made[Thing.EXERCISE]):
        sets = SetLog.objects.filter(Q(exercise__in=batch) | Q(asked__in=batch))
        for exercise, asked, log in sets.values_list("exercise_id", "asked_id", "session_log__submission_id"):
            used |= set() if log in own_logs else {exercise, asked}
        planned = PlannedExercise.objects.filter(exercise__in=batch)
        for exercise, block in planned.values_list("exercise_id", "session__block_id"):
            used |= set() if block in own_blocks else {exercise}
        used |= set(TechniqueClip.objects.filter(exercise__in=batch).values_list("exercise_id", flat=True))
    return used & set(done.made[Thing.EXERCISE])
