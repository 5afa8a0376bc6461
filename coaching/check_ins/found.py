"""What was found in a period, and what coaches did about it; also what was over by its end.

Found anew from the record as at each of its days, so that it does not hang on when Muster ran; each is told in the
words of the last day on which it held. Good news that went by is left out.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date
from itertools import zip_longest
from typing import Any

from analytics.assessment import Assessment
from analytics.episodes import STILL_HOLDS, find_episodes
from analytics.findings_schema import Kind as FindingKind
from analytics.findings_schema import is_one_of
from analytics.session_status import session_statuses
from analytics.span_figures import Spans
from analytics.table import Table
from coaching.check_ins.content import Found
from coaching.monitoring.context import FindingContext, build_context
from coaching.monitoring.fact_columns import to_date_cached
from coaching.monitoring.finding_words import KINDS, URGENCIES, subject_of, words_of
from coaching.monitoring.flag_rows import apply_acts, episode_key, events_by_episode
from coaching.monitoring.models import Flag, FlagEvent, Urgency
from coaching.monitoring.piles import KIND_ORDER, PILE_OF_KIND, URGENCY_ORDER, Pile
from coaching.monitoring.plain_words import day_text
from coaching.monitoring.refresh import AssessedClients

# Their words hang on what was the case on the day itself; those of the others on the rows behind them alone.
_TOLD_BY_DAY = (FindingKind.TURNOUT, FindingKind.CUT_SHORT, FindingKind.PLAN_RUNS_OUT)
# What the coach owes is nothing that was found about the client.
_KINDS = tuple(kind for kind in FindingKind if PILE_OF_KIND[KINDS[kind]] is not Pile.ANSWER)
_ACTS = {FlagEvent.What.SEEN: "seen", FlagEvent.What.PUT_ASIDE: "put aside", FlagEvent.What.CLOSED: "closed"}


@dataclass
class FoundOfClient:
    """The most urgent first."""

    told: list[Found] = field(default_factory=list)
    # Those that are neither over nor closed by a coach.
    standing: list[Found] = field(default_factory=list)


def read_found(assessed: AssessedClients, spans: Spans) -> dict[int, FoundOfClient]:
    """By client's id; spans end on the day up to which findings are told."""
    episodes = find_episodes(assessed.assessment.rules, spans, _KINDS)
    context = build_context(replace(assessed.assessment, findings=episodes), assessed.regions)
    events = events_by_episode(assessed.as_of)
    ids = assessed.assessment.history.record.clients["client_id"].tolist()
    found: dict[int, FoundOfClient] = {pk: FoundOfClient() for pk in ids}
    for at, rows in _contexts(context, episodes):
        for row in rows:
            client_id = ids[row["client_row"]]
            flag = _flag(at, row, client_id)
            acts = events.get(episode_key(flag), [])
            one = _found(at, row, flag, acts, assessed.as_of[client_id])
            if not _went_by(one):
                found[client_id].told.append(one)
            if one.ended_on is None and not _is_closed(flag, acts, assessed.as_of[client_id]):
                found[client_id].standing.append(one)
    for of_client in found.values():
        of_client.told.sort(key=_order)
        of_client.standing.sort(key=_order)
    return found


def _went_by(found: Found) -> bool:
    """Good news that is over and that nobody did anything about: the next round came, as it does every month."""
    return found.urgency == Urgency.GOOD and found.ended_on is not None and not found.done


def _order(found: Found) -> tuple[int, int, int, str]:
    return URGENCY_ORDER[found.urgency], KIND_ORDER[found.kind], -found.opened_on.toordinal(), found.subject


def _contexts(context: FindingContext, episodes: Table) -> Iterable[tuple[FindingContext, list[dict[str, Any]]]]:
    """Episodes with what their words need to know; a client has one day in each."""
    by_day = is_one_of(episodes["kind"], _TOLD_BY_DAY)
    yield context, episodes.rows(~by_day).records()
    of_client: dict[int, list[dict[str, Any]]] = defaultdict(list)
    for row in episodes.rows(by_day).records():
        of_client[row["client_row"]].append(row)
    for alongside in zip_longest(*of_client.values()):
        rows = [row for row in alongside if row is not None]
        yield replace(context, assessment=_as_at(context.assessment, rows)), rows


def _as_at(assessment: Assessment, rows: list[dict[str, Any]]) -> Assessment:
    """The assessment as at the day of each row's client."""
    history = assessment.history
    as_of = history.record.clients["as_of_day"].copy()
    as_of[[row["client_row"] for row in rows]] = [row["day"] for row in rows]
    record = replace(history.record, clients=history.record.clients.with_columns({"as_of_day": as_of}))
    statuses = session_statuses(record, history.outcomes, history.thresholds)
    return replace(assessment, history=replace(history, record=record), statuses=statuses)


def _flag(context: FindingContext, row: dict[str, Any], client_id: int) -> Flag:
    """The episode as the desk knows it; not saved."""
    return Flag(
        client_id=client_id,
        kind=KINDS[FindingKind(row["kind"])].value,
        subject=subject_of(context, row),
        urgency=URGENCIES[row["urgency"]].value,
        opened_on=to_date_cached(row["opened_day"]),
    )


def _is_closed(flag: Flag, acts: list[FlagEvent], until: date) -> bool:
    """Whether a coach has closed it, and it has not become worse since."""
    apply_acts(flag, acts, until)
    return flag.closed_on is not None


def _found(
    context: FindingContext, row: dict[str, Any], flag: Flag, acts: Iterable[FlagEvent], until: date
) -> Found:
    ended_on = None if row["ended_day"] == STILL_HOLDS else to_date_cached(row["ended_day"])
    done = [act for act in acts if act.what in _ACTS and flag.opened_on <= act.on <= (ended_on or until)]
    return Found(
        kind=flag.kind,
        subject=flag.subject,
        urgency=flag.urgency,
        sentence=words_of(context, row).sentence,
        opened_on=flag.opened_on,
        ended_on=ended_on,
        done=tuple(map(_act_text, done)),
    )


def _act_text(act: FlagEvent) -> str:
    """Such as "seen on Tue 3 Mar: rang her"."""
    until = f" until {day_text(act.until)}" if act.until else ""
    note = f": {act.note.strip()}" if act.note.strip() else ""
    return f"{_ACTS[FlagEvent.What(act.what)]} on {day_text(act.on)}{until}{note}"
