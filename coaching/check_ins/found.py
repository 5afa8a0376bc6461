"""What was found in a period, and what coaches did about it; also what was over by its end.

Found anew from the record as at each of its days, so that it does not hang on when Muster ran; each is told in the
words of the last day on which it held. Good news that went by is left out.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace
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
from coaching.monitoring.finding_ids import telling_subject
from coaching.monitoring.finding_words import KINDS, URGENCIES, subject_of, words_of
from coaching.monitoring.flag_rows import EpisodeKey, events_by_episode
from coaching.monitoring.models import FlagEvent, Urgency
from coaching.monitoring.piles import KIND_ORDER, PILE_OF_KIND, URGENCY_ORDER, Pile
from coaching.monitoring.plain_words import day_text
from coaching.monitoring.refresh import AssessedClients

# Their words hang on what was the case on the day itself; those of the others on the rows behind them alone.
_TOLD_BY_DAY = (FindingKind.TURNOUT, FindingKind.CUT_SHORT, FindingKind.PLAN_RUNS_OUT)
# What the coach owes is nothing that was found about the client.
_KINDS = tuple(kind for kind in FindingKind if PILE_OF_KIND[KINDS[kind]] is not Pile.ANSWER)
_ACTS = {FlagEvent.What.SEEN: "seen", FlagEvent.What.PUT_ASIDE: "put aside", FlagEvent.What.CLOSED: "closed"}


def read_found(assessed: AssessedClients, spans: Spans) -> dict[int, list[Found]]:
    """By client's id, the most urgent first; spans end on the day up to which findings are told."""
    episodes = find_episodes(assessed.assessment.rules, spans, _KINDS)
    context = build_context(replace(assessed.assessment, findings=episodes), assessed.regions)
    events = events_by_episode(assessed.as_of)
    ids = assessed.assessment.history.record.clients["client_id"].tolist()
    found: dict[int, list[Found]] = defaultdict(list)
    for at, rows in _contexts(context, episodes):
        for row in rows:
            client_id = ids[row["client_row"]]
            one = _found(at, row, client_id, events, assessed.as_of[client_id])
            if not _went_by(one):
                found[client_id].append(one)
    return {client_id: sorted(of_client, key=_order) for client_id, of_client in found.items()}


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


def _found(
    context: FindingContext,
    row: dict[str, Any],
    client_id: int,
    events: dict[EpisodeKey, list[FlagEvent]],
    until: date,
) -> Found:
    kind, subject = KINDS[FindingKind(row["kind"])].value, subject_of(context, row)
    opened_on = to_date_cached(row["opened_day"])
    ended_on = None if row["ended_day"] == STILL_HOLDS else to_date_cached(row["ended_day"])
    acts = events.get((client_id, kind, telling_subject(kind, subject)), ())
    return Found(
        kind=kind,
        subject=subject,
        urgency=URGENCIES[row["urgency"]].value,
        sentence=words_of(context, row).sentence,
        opened_on=opened_on,
        ended_on=ended_on,
        done=tuple(
            _act_text(act) for act in acts if act.what in _ACTS and opened_on <= act.on <= (ended_on or until)
        ),
    )


def _act_text(act: FlagEvent) -> str:
    """Such as "seen on Tue 3 Mar: rang her"."""
    until = f" until {day_text(act.until)}" if act.until else ""
    note = f": {act.note.strip()}" if act.note.strip() else ""
    return f"{_ACTS[FlagEvent.What(act.what)]} on {day_text(act.on)}{until}{note}"
