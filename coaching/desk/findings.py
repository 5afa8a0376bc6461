"""Findings as the desk shows them: one sentence, what is behind it, and the flags that an act on it reaches."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from coaching.desk.days import listed
from coaching.desk.evidence import Table, tables_of
from coaching.monitoring.acts import stamp_of
from coaching.monitoring.finding_ids import telling_subject
from coaching.monitoring.models import Flag, Kind
from coaching.monitoring.piles import KIND_ORDER, PILE_OF_KIND, URGENCY_ORDER, Pile

# How a sentence begins that says the same of several exercises.
SEVERAL_EXERCISES: dict[str, str] = {
    Kind.STALL.value: "Short in",
    Kind.STEP_NOT_TAKEN.value: "Load step not taken in",
    Kind.SKIPS_IT.value: "Skips",
    Kind.NO_STEP.value: "No load step for weeks in",
    Kind.TOO_EASY.value: "Two or more reps over in",
    Kind.READY.value: "Ready for the next load in",
}
NAMED_EXERCISES = 4

# What tells one finding from another: client, kind, and the exercise where it is about one.
Subject = tuple[int, str, str]


@dataclass(frozen=True, slots=True)
class Finding:
    """One sentence about one client, made of one flag or of several that say the same of several exercises."""

    # The most pressing first; `flag` is that one.
    flags: tuple[Flag, ...]
    flag: Flag
    urgency: str
    # Where it is found on a page: a client has one finding of a kind.
    place: str
    sentence: str
    remark: str
    is_new: bool

    @property
    def label(self) -> str:
        return str(Kind(self.flag.kind).label)

    @property
    def pile(self) -> Pile:
        return PILE_OF_KIND[self.flag.kind]

    @property
    def is_pain(self) -> bool:
        return self.flag.kind == Kind.PAIN.value

    @property
    def is_check_in(self) -> bool:
        return self.flag.kind == Kind.CHECK_IN_DUE.value

    @property
    def seen_on(self) -> date | None:
        """The day by which all of it was seen; none while any of it was not."""
        days = [flag.seen_on for flag in self.flags if flag.seen_on]
        return max(days) if len(days) == len(self.flags) else None

    @property
    def put_aside_until(self) -> date | None:
        return max((flag.put_aside_until for flag in self.flags if flag.put_aside_until), default=None)

    @property
    def tables(self) -> list[Table]:
        return tables_of(self.flags)

    @property
    def stood(self) -> str:
        """How it stood when the coach looked; an act on something else is not done."""
        return stamp_of(self.flags)

    @property
    def order(self) -> tuple[int, int, int]:
        """Urgency, then kind, then the newest first."""
        newest = max(flag.opened_on for flag in self.flags)
        return URGENCY_ORDER[self.urgency], KIND_ORDER[self.flag.kind], -newest.toordinal()


def subject_of(client_id: int, kind: str, subject: str) -> Subject:
    """Outside exercises the subject may change while the finding stays the same."""
    return client_id, kind, telling_subject(kind, subject)


def part_put_aside(flags: Sequence[Flag], day: date) -> tuple[list[Flag], list[Flag]]:
    """Those put aside beyond the day, and the others."""
    return [flag for flag in flags if flag.is_put_aside(day)], [flag for flag in flags if not flag.is_put_aside(day)]


def findings_of(flags: Iterable[Flag], live_exercises: int, news: frozenset[Subject] = frozenset()) -> list[Finding]:
    """A client's findings, worst first."""
    by_kind: dict[str, list[Flag]] = defaultdict(list)
    for flag in sorted(flags, key=_flag_order):
        by_kind[flag.kind].append(flag)
    found: list[Finding] = []
    for kind, alike in by_kind.items():
        groups = [alike] if kind in SEVERAL_EXERCISES else [[flag] for flag in alike]
        found += [_finding(group, live_exercises, news) for group in groups]
    return sorted(found, key=lambda finding: finding.order)


def with_several_exercises(flags: Mapping[int, Sequence[Flag]]) -> list[int]:
    """The clients for whom a sentence has to say how many exercises they have in all."""
    return [
        client_id
        for client_id, of_client in flags.items()
        if len(of_client) > 1 and len(of_client) > len({flag.kind for flag in of_client})
    ]


def _finding(flags: Sequence[Flag], live_exercises: int, news: frozenset[Subject]) -> Finding:
    first = flags[0]
    is_one = len(flags) == 1
    return Finding(
        flags=tuple(flags),
        flag=first,
        urgency=first.urgency,
        place=f"{first.client_id}-{first.kind}",
        sentence=first.sentence if is_one else _sentence_about_several(flags, live_exercises),
        remark=first.remark if is_one else "",
        is_new=any(subject_of(flag.client_id, flag.kind, flag.subject) in news for flag in flags),
    )


def _sentence_about_several(flags: Sequence[Flag], live_exercises: int) -> str:
    share = f"{len(flags)} of {max(live_exercises, len(flags))} exercises"
    names = listed([flag.subject for flag in flags], at_most=NAMED_EXERCISES)
    return f"{SEVERAL_EXERCISES[flags[0].kind]} {share}: {names}."


def _flag_order(flag: Flag) -> tuple[int, int, str]:
    return URGENCY_ORDER[flag.urgency], -flag.opened_on.toordinal(), flag.subject
