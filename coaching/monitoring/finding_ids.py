"""What tells one finding about a client from another, and the name that follows for other programs.

The name is the same for a stored finding, for one computed as at another day, and for a later episode of it.
"""

from __future__ import annotations

from uuid import UUID, uuid5

from coaching.monitoring.models import Flag, Kind

# Their subject is an exercise, and an episode of theirs is one of that exercise.
KINDS_OF_EXERCISES = frozenset(
    {Kind.STALL, Kind.STEP_NOT_TAKEN, Kind.SKIPS_IT, Kind.NO_STEP, Kind.TOO_EASY, Kind.READY}
)


def telling_subject(kind: str, subject: str) -> str:
    """The exercise where a finding is about one; any other subject may change while the finding stays the same."""
    return subject if kind in KINDS_OF_EXERCISES else ""


def finding_id(client_public_id: UUID, flag: Flag) -> UUID:
    return uuid5(client_public_id, f"{Kind(flag.kind).value} {telling_subject(flag.kind, flag.subject)}")
