"""Seeded rosters: `random_roster(7)` is always the same one. Options fix what is otherwise drawn for each client."""

from __future__ import annotations

from datetime import date, timedelta
from random import Random

from tests.rosters.plans import Session, Style, plan_blocks
from tests.rosters.roster import CLIENT_COLUMNS, Roster, Row
from tests.rosters.training import Trainee, write_logs

# So that a roster of twenty weeks has the last week of 2026, its fifty-third, in it.
FIRST_MONDAY = date(2026, 9, 7)
ZONES = ["UTC", "Europe/Lisbon", "America/Denver", "Pacific/Auckland", "Asia/Kathmandu"]
# The share of logs that name their planned session.
NAMING = {"all": 1.0, "none": 0.0, "mixed": 0.6}
# How often which kind of client is drawn.
KINDS = {"trains": 12, "no plan": 1, "no log": 1, "starts late": 1, "hardly starts": 2}


def random_roster(
    seed: int,
    *,
    clients: int = 8,
    weeks: int = 20,
    starts_on: date = FIRST_MONDAY,
    sessions_a_week: int | None = None,
    stages: int | None = None,
    unit: str | None = None,
    sends: str | None = None,
    labels: str | None = None,
) -> Roster:
    """`labels` says which logs name their session: all, none or mixed; `starts_on` is a Monday."""
    random = Random(seed)
    roster = Roster([], [], [])
    until = starts_on + timedelta(weeks=weeks) - timedelta(days=1)
    for number in range(clients):
        client = _draw_client(random, number, starts_on, weeks, unit, sends)
        style = Style(
            key=client["client"],
            unit=client["unit"] or "kg",
            sessions_a_week=sessions_a_week or random.choice([2, 3, 3, 4]),
            stages=stages or random.choice([2, 3, 5]),
            has_labels=random.random() > 0.1,
        )
        # The first trains as most do; among the others are some without a plan or without a log.
        kind = random.choices(list(KINDS), KINDS.values())[0] if number > 0 else "trains"
        plan = _draw_plan(random, style, kind, starts_on, weeks)
        share = NAMING[labels or random.choice(list(NAMING))]
        trainee = Trainee(random, style, share, minutes=int(client["minutes"] or 35))
        roster.clients.append(client)
        roster.blocks.extend(asked.row for session in plan for asked in session.asked)
        if kind == "hardly starts":
            trainee.phase, trainee.phase_ends_on = "hardly", starts_on + timedelta(days=40)
        if kind != "no log":
            roster.logs.extend(write_logs(trainee, plan, until))
    return roster


def _draw_plan(random: Random, style: Style, kind: str, starts_on: date, weeks: int) -> list[Session]:
    if kind == "no plan":
        return []
    first_week = weeks - 2 if kind == "starts late" else random.choice([0, 0, 1, 3])
    return plan_blocks(random, style, starts_on + timedelta(weeks=first_week), weeks - first_week)


def _draw_client(random: Random, number: int, starts_on: date, weeks: int, unit: str | None, sends: str | None) -> Row:
    last_day = 7 * weeks - 1
    drawn = {
        "client": f"K-{number + 1:03}",
        "name": f"Client {number + 1}",
        "email": f"client{number + 1}@example.org" if random.random() < 0.8 else "",
        "time_zone": random.choice(ZONES),
        "unit": unit or random.choice(["kg", "kg", "lb", ""]),
        # Some join in the middle of a block.
        "joined_on": (starts_on + timedelta(days=random.choice([-90, -7, 0, 10, 24]))).isoformat(),
        "sends": sends or random.choice(["each", "each", "", "weekly", "block"]),
        "minutes": random.choice(["", "30", "40"]),
        "kit": random.choice(["", "dumbbell: 2-20/2; kettlebell: 8, 12, 16, 20, 24"]),
        "pauses": "; ".join(_draw_pauses(random, starts_on, last_day)),
        "goal": random.choice(["", "Carry the shopping upstairs", 'Move "without thinking", again']),
    }
    return {column: drawn[column] for column in CLIENT_COLUMNS}


def _draw_pauses(random: Random, starts_on: date, last_day: int) -> list[str]:
    """None, one, or two that overlap."""
    first_on = starts_on + timedelta(days=random.randint(7, last_day - 14))
    pauses = [(first_on, first_on + timedelta(days=random.randint(0, 15)))]
    second_on = first_on + timedelta(days=random.randint(0, 6))
    pauses.append((second_on, second_on + timedelta(days=random.randint(3, 12))))
    return [f"{first}..{last}" for first, last in pauses[: random.choice([0, 0, 1, 2])]]
