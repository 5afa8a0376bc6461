"""What stands in the way of undoing a load: whatever would be lost with it, or would no longer be true.

Nothing that came later is thrown away. A thing that the load made goes only when nothing stands on it; a value that it
changed goes back only when it is still as the load left it. An exercise that others use by now may stay if it holds no
more than its name.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from coaching.loads import snapshots
from coaching.loads.done import Done
from coaching.loads.models import Load, LoadedThing
from coaching.loads.naming import listed, names_of
from coaching.loads.referring import Counts, exercises_used_elsewhere, referring, referring_to_rows
from coaching.monitoring.plain_words import counted
from roster.batches import in_batches
from roster.blocks.models import Block, Exercise, Measure, PlannedSession, Slot
from roster.logs.models import SessionLog, Submission
from roster.people.models import Client, Coach
from roster.watching import Thing

CLIENTS, SESSIONS = Client._meta.label_lower, PlannedSession._meta.label_lower
TAKEN_BACK = (Thing.CLIENT, Thing.BLOCK, Thing.LOG)
PLACE_AND_REVISION = ("client_id", "uuid", "revision")


@dataclass(frozen=True)
class InTheWay:
    """Loads to undo first, and whatever else is in the way, a sentence each."""

    later_loads: list[Load]
    sentences: list[str]

    def __bool__(self) -> bool:
        return bool(self.later_loads or self.sentences)


def find_in_the_way(done: Done, by: Coach) -> InTheWay:
    if out_of_reach := list(_out_of_reach(done, by)):
        # Anything more would tell of clients who are not theirs.
        return InTheWay([], out_of_reach)
    later_revisions = _later_revisions(done.touched(Thing.LOG))
    sentences = [
        *_standing_on_it(done),
        *_corrected_elsewhere(later_revisions),
        *_changed_since(done),
        *_read_in_its_unit(done),
        *_exercises_in_use(done),
    ]
    return InTheWay(_later_loads(done, later_revisions), sentences)


def _out_of_reach(done: Done, by: Coach) -> Iterator[str]:
    reachable = set(Client.objects.changeable_by(by).values_list("pk", flat=True))
    if others := done.client_ids() - reachable:
        yield f"It touched {counted(len(others), 'client')} whom you may not change."


def _later_loads(done: Done, later_revisions: list[int]) -> list[Load]:
    """Standing loads after this one that say anything of what it made or changed."""
    later = Load.objects.standing().filter(studio=done.load.studio_id, pk__gt=done.load.pk)
    standing = _blocks_and_logs_on_it(done)
    found = {load.pk: load for load in later if any(load.says_again(one, done.touched(one)) for one in TAKEN_BACK)}
    found |= {load.pk: load for load in later if any(load.has_made(one, ids) for one, ids in standing.items())}
    touched = {Thing.CLIENT: done.touched(Thing.CLIENT), Thing.BLOCK: done.touched(Thing.BLOCK)}
    for thing, ids in {**touched, Thing.LOG: [*later_revisions, *standing[Thing.LOG]]}.items():
        for batch in in_batches(ids):
            told = LoadedThing.objects.filter(load__in=later, thing=thing, thing_id__in=batch).select_related("load")
            found |= {one.load_id: one.load for one in told}
    return [found[pk] for pk in sorted(found)]


def _blocks_and_logs_on_it(done: Done) -> dict[Thing, list[int]]:
    """Blocks of the clients that it made, logs of these clients and of the sessions that it made."""
    clients, sessions = done.made[Thing.CLIENT], list(_added_sessions(done))
    found: dict[Thing, list[int]] = {Thing.BLOCK: [], Thing.LOG: []}
    for batch in in_batches(clients):
        found[Thing.BLOCK] += Block.objects.filter(client__in=batch).values_list("pk", flat=True)
        found[Thing.LOG] += SessionLog.objects.filter(client__in=batch).values_list("submission_id", flat=True)
    for path, ids in (("planned_session__block", done.made[Thing.BLOCK]), ("planned_session", sessions)):
        for batch in in_batches(ids):
            logs = SessionLog.objects.filter(**{f"{path}__in": batch})
            found[Thing.LOG] += logs.values_list("submission_id", flat=True)
    return found


def _later_revisions(submissions: Iterable[int]) -> list[int]:
    """Of the submissions that were replaced, those that came in their place and after."""
    found: list[int] = []
    for batch in in_batches(submissions):
        replaced = Submission.objects.filter(pk__in=batch, verdict=Submission.Verdict.REPLACED)
        revisions = {(client, uuid): number for client, uuid, number in replaced.values_list(*PLACE_AND_REVISION)}
        same = Submission.objects.filter(uuid__in=[uuid for _, uuid in revisions])
        for pk, client, uuid, number in same.values_list("pk", *PLACE_AND_REVISION):
            if number > revisions.get((client, uuid), number):
                found.append(pk)
    return found


def _standing_on_it(done: Done) -> Iterator[str]:
    for thing in TAKEN_BACK:
        counts = referring(thing, done.made[thing])
        if thing is Thing.BLOCK:
            counts |= _on_added_sessions(done)
        names = names_of(thing, counts)
        for pk, name in names.items():
            yield f"{name}: {listed(counts[pk])} came to it since."


def _on_added_sessions(done: Done) -> Counts:
    return referring_to_rows(Thing.BLOCK, PlannedSession, _added_sessions(done))


def _added_sessions(done: Done) -> dict[int, int]:
    """Sessions that it added to blocks that were there, each with its block."""
    return {
        int(session): block
        for block, left in done.differences[Thing.BLOCK].items()
        for session in left["made"].get(SESSIONS, ())
    }


def _corrected_elsewhere(later_revisions: list[int]) -> Iterator[str]:
    """By the client or a coach: there is no load that could be undone first."""
    for batch in in_batches(later_revisions):
        others = Submission.objects.filter(pk__in=batch).exclude(door=Submission.Door.FILE)
        for one in others.select_related("client").defer("payload"):
            yield f"{one.client.key}: a log was corrected since, through the door “{one.get_door_display()}”."


def _changed_since(done: Done) -> Iterator[str]:
    for thing in (Thing.CLIENT, Thing.BLOCK):
        now = snapshots.take(thing, done.touched(thing))
        changed = [pk for pk in done.made[thing] if pk in now and _is_other(done, thing, pk, now[pk])]
        differences = done.differences[thing].items()
        changed += [pk for pk, left in differences if pk in now and snapshots.changed_since(left, now[pk])]
        for name in names_of(thing, changed).values():
            yield f"{name} was changed since."


def _is_other(done: Done, thing: Thing, pk: int, now: snapshots.Rows) -> bool:
    return snapshots.fingerprint(now) != done.fingerprints[thing].get(pk)


def _read_in_its_unit(done: Done) -> Iterator[str]:
    """Files that name no unit are read in the client's own: what came in since stands on the one that was changed."""
    changed = [
        pk for pk, left in done.differences[Thing.CLIENT].items()
        if any("unit" in columns for columns in left["changed"].get(CLIENTS, {}).values())
    ]  # fmt: skip
    later = Submission.objects.filter(client__in=changed, received_at__gt=done.load.loaded_at)
    read_since = set(later.exclude(verdict=Submission.Verdict.WITHDRAWN).values_list("client_id", flat=True))
    read_since |= _with_blocks_since(changed, done.load)
    for name in names_of(Thing.CLIENT, read_since).values():
        yield f"{name}: the unit was changed, and blocks or logs were read in it since."


def _with_blocks_since(client_ids: list[int], load: Load) -> set[int]:
    later = LoadedThing.objects.filter(load__in=Load.objects.standing().filter(studio=load.studio_id, pk__gt=load.pk))
    blocks = later.filter(thing=Thing.BLOCK).values("thing_id")
    found = Client.objects.filter(pk__in=client_ids, blocks__in=blocks)
    return set(found.values_list("pk", flat=True))


def _exercises_in_use(done: Done) -> Iterator[str]:
    for exercise in Exercise.objects.filter(pk__in=exercises_used_elsewhere(done)):
        if (exercise.slot, exercise.implement, exercise.measure) != (Slot.EXTRA, "", Measure.REPS):
            yield f"The exercise “{exercise.name}”, made by this load, is used by others since."
