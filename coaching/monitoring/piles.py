"""Which pile of the Morning list a finding belongs to, and what is pressing before what."""

from __future__ import annotations

from enum import Enum

from coaching.monitoring.models import Kind, Urgency


class Pile(Enum):
    """What a coach does about it; in the order of the page."""

    RING = "Ring"
    ANSWER = "Answer"
    PLAN = "Look at the plan"
    WORD = "Send a word"

    @property
    def anchor(self) -> str:
        return self.name.lower()


# Every kind has its pile here, and within a pile its place; a pile is shown once it has a kind.
PILE_OF_KIND: dict[str, Pile] = {
    Kind.PAIN.value: Pile.RING,
    Kind.TURNOUT.value: Pile.RING,
    Kind.CHECK_IN_DUE.value: Pile.ANSWER,
    Kind.STALL.value: Pile.PLAN,
    Kind.STEP_NOT_TAKEN.value: Pile.PLAN,
    Kind.SKIPS_IT.value: Pile.PLAN,
    Kind.CUT_SHORT.value: Pile.PLAN,
    Kind.NO_STEP.value: Pile.PLAN,
    Kind.PLAN_RUNS_OUT.value: Pile.PLAN,
    Kind.TOO_EASY.value: Pile.PLAN,
    Kind.READY.value: Pile.PLAN,
}
SHOWN_PILES = tuple(pile for pile in Pile if pile in PILE_OF_KIND.values())

KIND_ORDER = {kind: order for order, kind in enumerate(PILE_OF_KIND)}
URGENCY_ORDER = {urgency.value: order for order, urgency in enumerate(Urgency)}
