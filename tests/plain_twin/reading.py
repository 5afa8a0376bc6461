"""The rows of the three files, read into a record: cells are strings, as a CSV reader gives them."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

from tests.plain_twin.mass import read_load
from tests.plain_twin.record import Block, Client, Log, LoggedSet, PlannedExercise, PlannedSession, Record, fold

Row = dict[str, str]
DAYS = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]


def read_record(
    clients: list[Row], blocks: list[Row], logs: list[Row], regions_of: dict[str, list[str]] | None = None
) -> Record:
    record = Record([read_client(row) for row in clients], {}, regions_of or {})
    by_key = {fold(client.key): client for client in record.clients}
    for row in blocks:
        _add_planned_exercise(by_key[fold(row["client"])], row)
        record.exercise_names.setdefault(fold(row["exercise"]), row["exercise"].strip())
    logs_by_key: dict[tuple[str, ...], Log] = {}
    for filed, row in enumerate(logs):
        _add_logged_row(by_key[fold(row["client"])], row, filed, logs_by_key)
        if row["exercise"].strip():
            record.exercise_names.setdefault(fold(row["exercise"]), row["exercise"].strip())
    return record


def read_client(row: Row) -> Client:
    return Client(
        key=row["client"].strip(),
        unit=row["unit"] or "kg",
        joined_on=date.fromisoformat(row["joined_on"]),
        sends=row["sends"] or "each",
        minutes=int(row["minutes"]) if row["minutes"] else None,
        pauses=[_read_pause(part) for part in row["pauses"].split(";") if part.strip()],
    )


def _read_pause(text: str) -> tuple[date, date]:
    first, last = text.strip().split("..")
    return date.fromisoformat(first), date.fromisoformat(last)


def _add_planned_exercise(client: Client, row: Row) -> None:
    block = _find_or_add_block(client, row)
    session = _find_or_add_session(client, block, row)
    targets, is_each_side, measure = read_targets(row["reps"], int(row["sets"]))
    session.exercises.append(
        PlannedExercise(
            session=session,
            position=len(session.exercises) + 1,
            exercise=fold(row["exercise"]),
            count=int(row["count"] or 1),
            targets=targets,
            is_each_side=is_each_side,
            measure=measure,
            load=read_load(row["load"], row["unit"] or client.unit),
            rest_s=int(row["rest_s"]) if row["rest_s"] else None,
            changed=row["changed"] or "none",
        )
    )


def _find_or_add_block(client: Client, row: Row) -> Block:
    for block in client.blocks:
        if fold(block.label) == fold(row["block"]):
            return block
    block = Block(row["block"].strip(), date.fromisoformat(row["starts_on"]))
    client.blocks.append(block)
    return block


def _find_or_add_session(client: Client, block: Block, row: Row) -> PlannedSession:
    week = int(row["week"])
    suggested_on = block.starts_on + timedelta(days=7 * (week - 1) + DAYS.index(fold(row["day"])))
    for session in block.sessions:
        is_same_day = session.suggested_on == suggested_on
        if session.week == week and fold(session.label) == fold(row["session"]) and is_same_day:
            return session
    session = PlannedSession(client, block, week, row["session"].strip(), suggested_on)
    block.sessions.append(session)
    return session


def read_targets(text: str, sets: int) -> tuple[tuple[int, ...], bool, str]:
    """The target of each set, whether each side does it, and what is counted: "8", "8 each", "30 s", "12-10-8"."""
    number, *words = text.split()
    is_each_side = "each" in words
    measure = "s" if "s" in words else "m" if "m" in words else "reps"
    targets = tuple(int(part) for part in number.split("-"))
    return (targets if len(targets) > 1 else targets * sets), is_each_side, measure


def _add_logged_row(client: Client, row: Row, filed: int, logs_by_key: dict[tuple[str, ...], Log]) -> None:
    columns = ("client", "performed_on", "block", "week", "session", "submission")
    key = tuple(fold(row[column]) for column in columns)
    if key not in logs_by_key:
        logs_by_key[key] = _read_log(row, filed)
        client.logs.append(logs_by_key[key])
    if row["exercise"].strip():
        logs_by_key[key].sets.append(_read_set(client, row))


def _read_log(row: Row, filed: int) -> Log:
    """A session; what belongs to all of it stands in its first row."""
    return Log(
        filed=filed,
        performed_on=date.fromisoformat(row["performed_on"]),
        names=(fold(row["block"]), int(row["week"]), fold(row["session"])) if row["block"].strip() else None,
        minutes=_number(row["minutes"]),
        effort=_number(row["rpe"]),
        pain=_number(row["pain"]),
        pain_region=row["pain_region"].strip(),
    )


def _read_set(client: Client, row: Row) -> LoggedSet:
    return LoggedSet(
        exercise=fold(row["exercise"]),
        number=int(row["set"]),
        reps=int(row["reps"]),
        load=read_load(row["load"], row["unit"] or client.unit),
        rest_s=int(row["rest_s"]) if row["rest_s"] else None,
        is_warm_up=fold(row["warm_up"]) in ("yes", "1"),
    )


def _number(text: str) -> Fraction | None:
    return Fraction(text) if text.strip() else None
