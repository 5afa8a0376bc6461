"""How long has somebody stayed at one prescribed load, and where in its round are they?

A landing is a run of consecutive exposures of one exercise at equal prescribed load, across blocks; a load that returns
starts a new one. Left out are exposures that were not logged, done at another (heavier) load, in a deload stage, or
performed less than 7 days after a session that came 14 or more days after the session before it. A round is the run of
planned rows of one exercise in one block at one load, deloads apart; its stages are its distinct sets x reps x rest.
"""

from __future__ import annotations

import numpy as np

from analytics.flag_thresholds import Thresholds
from analytics.frame_schema import Changed, Reason, Record
from analytics.sorted_keys import Bools, DayLookup, Ints, dense_codes, order_by, run_starts
from analytics.table import Table

NO_LANDING = -1
NO_ROUND = -1
# Stands for "no rest prescribed" where rests are compared.
_NO_REST = -1.0


def number_landings(record: Record, exposures: Table, thresholds: Thresholds) -> Ints:
    """The landing of each exposure, counted from 0 within its client and exercise; -1 where it is left out.

    Exposures asked for at 20, 20, 22, 20 kg lie on landings 0, 0, 1, 2.
    """
    planned_row = exposures["planned_row"]
    load = record.planned_exercises["load_code"][planned_row]
    kept = np.flatnonzero(~_left_out(record, exposures, thresholds))
    client, exercise = exposures["client_row"][kept], exposures["exercise_id"][kept]
    order = order_by(client, exercise)
    group_starts = run_starts(client[order], exercise[order])
    load_starts = run_starts(client[order], exercise[order], load[kept][order])
    counted = np.cumsum(load_starts)
    first_of_group = np.maximum.accumulate(np.where(group_starts, counted, 0)) if counted.size else counted
    landing = np.full(len(exposures), NO_LANDING, dtype=np.int64)
    landing[kept[order]] = counted - first_of_group
    return landing


def _left_out(record: Record, exposures: Table, thresholds: Thresholds) -> Bools:
    reason = exposures["reason"]
    changed = record.planned_exercises["changed"][exposures["planned_row"]]
    return (
        np.isin(reason, [Reason.NOT_LOGGED, Reason.OTHER_LOAD])
        | (changed == Changed.DELOAD)
        | _is_soon_after_return(record, exposures, thresholds)
    )


def _is_soon_after_return(record: Record, exposures: Table, thresholds: Thresholds) -> Bools:
    """Whether each exposure was performed less than 7 days after a session that followed a long gap (or in it)."""
    logs = record.session_logs
    client = record.client_row_of_log
    day = logs["performed_day"]
    order = order_by(client, day)
    client, day = client[order], day[order]
    is_return = np.zeros(day.size, dtype=np.bool_)
    is_return[1:] = (client[1:] == client[:-1]) & (day[1:] - day[:-1] >= thresholds.return_after_days)
    returns = DayLookup(client[is_return], day[is_return])
    performed = exposures["performed_day"]
    last_return = returns.last_until(exposures["client_row"], performed)
    if not is_return.any():
        return np.zeros(len(exposures), dtype=np.bool_)
    return (last_return >= 0) & (performed - day[is_return][last_return] < thresholds.return_lasts_days)


def number_rounds(record: Record) -> Table:
    """One row a planned exercise, in the order given: planned_id, round (-1 in a deload), stage (from 0), stages.

    The round numbers are the record's own; two planned exercises have the same exactly when they are of one round.
    """
    planned = record.planned_exercises
    session_row = record.session_row_of_planned
    rows = np.flatnonzero(planned["changed"] != Changed.DELOAD)
    block = record.planned_sessions["block_id"][session_row]
    suggested = record.planned_sessions["suggested_day"][session_row]
    exercise, load = planned["exercise_id"], planned["load_code"]
    by_time = (suggested[rows], planned["position"][rows], planned["session_id"][rows])
    order = rows[order_by(block[rows], exercise[rows], *by_time)]
    round_of_ordered = np.cumsum(run_starts(block[order], exercise[order], load[order])) - 1
    stage, stages = _stages(planned, order, round_of_ordered)
    numbered = {name: np.full(len(planned), NO_ROUND, dtype=np.int64) for name in ("round", "stage", "stages")}
    numbered["round"][order], numbered["stage"][order], numbered["stages"][order] = round_of_ordered, stage, stages
    return Table({"planned_id": planned["planned_id"], **numbered})


def stage_codes(planned: Table) -> Ints:
    """One code for each distinct sets x reps x rest among the planned rows."""
    rest = np.nan_to_num(planned["rest_s"], nan=_NO_REST)
    rest_code = np.rint(rest * 1000).astype(np.int64)
    return dense_codes(planned["sets"], planned["target_code"], rest_code)[0]


def _stages(planned: Table, order: Ints, round_of_ordered: Ints) -> tuple[Ints, Ints]:
    """For rows in order of time within their round: which of the round's distinct stages each is, and how many."""
    code = stage_codes(planned)[order]
    by_code = order_by(round_of_ordered, code)
    starts = run_starts(round_of_ordered[by_code], code[by_code])
    first_seen = np.empty(order.size, dtype=np.int64)
    first_seen[by_code] = by_code[np.maximum.accumulate(np.where(starts, np.arange(order.size), 0))]
    is_new = first_seen == np.arange(order.size)
    round_starts = run_starts(round_of_ordered)
    counted = np.cumsum(is_new)
    before_round = np.maximum.accumulate(np.where(round_starts, counted - 1, 0)) if order.size else counted
    stage = counted[first_seen] - 1 - before_round
    last_of_round = np.append(np.flatnonzero(round_starts)[1:], order.size) - 1
    stages = (counted - before_round)[last_of_round][round_of_ordered] if order.size else counted
    return stage, stages
