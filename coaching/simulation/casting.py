"""Who plays which part: how many clients of a roster each situation gets, and what the quiet majority is like."""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from coaching.simulation import presence, situations
from coaching.simulation.days import THU
from coaching.simulation.situations import Situation

ROSTER_OF_THE_MIX = 36
# More than this share of a roster never has a situation now: most people are fine.
MOST_WITH_A_SITUATION = 0.45


@dataclass(frozen=True)
class Part:
    """What one client is drawn with; empty is an ordinary client who does well."""

    name: str = "fine"
    now: Situation | None = None
    # In which week of their block they are; None: in the second or third.
    week_of_block: Callable[[date], int] | None = None
    # Their first block is the present one.
    is_new: bool = False
    # What is special about the person: fields of Person and Habits by name.
    special: Mapping[str, Any] = field(default_factory=dict)


def _last_week_or_first(at: date) -> int:
    """Late in the week the last stages are done; early in it, those of the week before still stand."""
    return 4 if at.weekday() >= THU else 1


def _last_week_or_none(at: date) -> int:
    return 4 if at.weekday() >= THU else 5


def _run_out_and_ready(person: Any, script: Any, at: date) -> None:
    situations.plan_runs_out(person, script, at)
    situations.ready(person, script, at)


# The graver ones first: a small roster gets those.
NOW = (
    Part("pain_now", presence.pain("now", (7,), (4, 0))),
    Part("stall_act", situations.stall("reps_short", 3)),
    Part("week_gone", presence.week_gone),
    Part("silent", presence.gone(32, 9)),
    Part("plan_runs_out", _run_out_and_ready, _last_week_or_none),
    Part("step_not_taken", situations.step_not_taken, lambda _: 3),
    Part("not_started", presence.not_started, lambda _: 2, is_new=True),
    Part("second_round", situations.second_round("sets_short")),
    Part("pain_act", presence.pain("act", (4, 5), (3, 0))),
    Part("early", presence.early, lambda _: 3, is_new=True),
    Part("skips_it", situations.skips_it),
    Part("cut_short", presence.cut_short),
    Part("no_step", situations.no_step_and_too_easy, lambda _: 3),
    Part("ready", situations.ready, _last_week_or_first),
)
QUIET = (
    Part("pounds", special={"unit": "lb", "time_zone": "America/Chicago"}),
    Part("southern", special={"time_zone": "Pacific/Auckland"}),
    Part("paused", special={"pause": (-5, 9)}),
    Part("weekly", week_of_block=lambda _: 3, special={"sends": "weekly"}),
    Part("block", special={"sends": "block", "shape": "with_deload"}),
    Part("joined_this_week", week_of_block=lambda _: 1, is_new=True),
    Part("starts_next_week", week_of_block=lambda _: 0, is_new=True),
    Part("told", special={"told_share": 0.2}),
    Part("later", special={"later_share": 0.4}),
    Part("extra", special={"extra_share": 0.25}),
    Part("second_log", special={"second_log_share": 0.12}),
    Part("two_sessions", special={"weekdays": (1, 4)}),
    Part("four_sessions", special={"weekdays": (0, 1, 3, 4)}),
    Part("deload", special={"shape": "with_deload"}),
    Part("three_stages", special={"shape": "three_stages"}),
    Part("per_set", special={"shape": "per_set"}),
    Part("no_kit", special={"has_kit": False}),
    Part("unnamed", special={"names_session": False}),
    Part("holiday", special={"pause": (-75, -62)}),
    Part("weekly_too", special={"sends": "weekly", "time_zone": "Australia/Hobart"}),
)
# Held for a while, and over by the day the roster is drawn for.
PASSING: dict[str, Situation] = {
    "pain_watch": presence.pain("watch", (4,), (0,)),
    "stall_2_load_below": situations.stall("load_below", 2),
    "quiet": presence.gone(16, 4),
    "second_round_reps_short": situations.second_round("reps_short"),
    "step_not_taken": situations.step_not_taken,
    "too_easy": situations.too_easy,
    "overlong": presence.overlong,
    "stall_3_sets_short": situations.stall("sets_short", 3),
    "pain_low": presence.pain("watch", (1, 2, 1), (0,)),
    "skips_it": situations.skips_it,
    "no_step": situations.no_step,
    "silent": presence.gone(30, 6),
    "stall_2_reps_short": situations.stall("reps_short", 2),
    "cut_short": presence.cut_short,
    "week_gone": presence.week_gone,
    "second_round_load_below": situations.second_round("load_below"),
    "pain_act": presence.pain("act", (3, 4), (0,)),
    "stall_3_load_below": situations.stall("load_below", 3),
    "stall_2_sets_short": situations.stall("sets_short", 2),
    "pain_now": presence.pain("now", (6,), (3, 0)),
    "stall_3_reps_short": situations.stall("reps_short", 3),
    "second_round_sets_short": situations.second_round("sets_short"),
}
DEFAULT_MIX: dict[str, float] = {part.name: 1.0 for part in (*NOW, *QUIET)} | {"passing": float(len(PASSING))}


def read_mix(text: str) -> dict[str, float]:
    """The mix from words such as "silent=3, ready=0" or "none, stall_act=6": clients of 36 for each part.

    A part that is not named keeps its usual number, unless the words begin with "none".
    """
    mix = dict(DEFAULT_MIX)
    for word in filter(None, (word.strip() for word in text.split(","))):
        if word == "none":
            mix = dict.fromkeys(mix, 0.0)
            continue
        name, _, number = word.partition("=")
        if name.strip() not in mix:
            raise ValueError(f"“{name.strip()}” is no part; there are: {', '.join(mix)}.")
        try:
            mix[name.strip()] = float(number)
        except ValueError:
            raise ValueError(f"“{number}” is no number of clients for “{name.strip()}”.") from None
        if mix[name.strip()] < 0:
            raise ValueError(f"“{name.strip()}” cannot have {number} clients.")
    return mix


def parts_for(clients: int, mix: Mapping[str, float], dice: random.Random) -> list[Part]:
    """One part a client, in chance order: situations in their share, then special ones, and the rest just fine."""
    is_default = all(mix[part.name] == DEFAULT_MIX[part.name] for part in NOW)
    most = int(clients * MOST_WITH_A_SITUATION) if is_default else clients
    parts = _spread(NOW, clients, mix)[:most]
    parts += _spread(QUIET, clients, mix)
    parts = parts[:clients] + [Part()] * (clients - len(parts))
    dice.shuffle(parts)
    return parts


def _spread(parts: tuple[Part, ...], clients: int, mix: Mapping[str, float]) -> list[Part]:
    """Every part as often as its share of the roster says, the first of each before the second of any."""
    counts = {part.name: _share_of(clients, mix[part.name]) for part in parts}
    rounds = range(max(counts.values(), default=0))
    return [part for number in rounds for part in parts if counts[part.name] > number]


def _share_of(clients: int, of_the_mix: float) -> int:
    share = of_the_mix * clients / ROSTER_OF_THE_MIX
    return max(1, round(share)) if share else 0


def passing_for(clients: int, mix: Mapping[str, float]) -> list[str]:
    """Names of the situations that came and went, as many as the mix says."""
    names = list(PASSING)
    return [names[number % len(names)] for number in range(_share_of(clients, mix["passing"]))]
