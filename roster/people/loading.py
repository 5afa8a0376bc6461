"""Loading a file of clients: a row makes a client, or brings the client of its key up to what it says.

A column that the file does not have leaves alone what the record holds; an empty cell of one it has, empties it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from roster.labels import fold
from roster.mass import MassUnit
from roster.people.client_rows import ClientRow, read_client_rows
from roster.people.models import Client, Coach, Consent, KitItem, Pause, Studio
from roster.tables.report import LoadReport
from roster.tables.table import Table
from roster.watching import NOBODY, Thing, Watcher

CONSENT_PURPOSE = "training record"
CONSENT_VERSION = "2026-1"


@dataclass(frozen=True, slots=True)
class _Loading:
    table: Table
    studio: Studio
    by: Coach
    now: datetime
    known: dict[str, Client]
    report: LoadReport
    watcher: Watcher


def load_clients(
    table: Table, *, studio: Studio, by: Coach, now: datetime, watcher: Watcher = NOBODY
) -> LoadReport:
    """Save every row, or, when the report has faults, nothing."""
    report = LoadReport("clients", messages=list(table.messages))
    clients = Client.objects.filter(studio=studio).prefetch_related("consents", "kit", "pauses")
    known = {client.key_folded: client for client in clients}
    loading = _Loading(table, studio, by, now, known, report, watcher)
    rows = read_client_rows(table, report.faults, lambda key: _unit_of(known.get(fold(key))))
    _refuse_unreachable(loading, rows)
    if not report.faults:
        watcher.before_changing(Thing.CLIENT, [known[fold(row.key)].pk for row in rows if fold(row.key) in known])
        for row in rows:
            _load_row(loading, row)
    return report


def _unit_of(client: Client | None) -> str:
    return client.unit if client else MassUnit.KILOGRAM


def _refuse_unreachable(loading: _Loading, rows: list[ClientRow]) -> None:
    reachable = set(Client.objects.changeable_by(loading.by).values_list("pk", flat=True))
    for row in rows:
        client = loading.known.get(fold(row.key))
        if client and client.pk not in reachable:
            loading.report.faults.add(row.number, "client", row.key, "is the key of a client who is not yours")


def _load_row(loading: _Loading, row: ClientRow) -> None:
    report = loading.report
    client = loading.known.get(fold(row.key))
    values = dict(_values(loading, row))
    if client is None:
        client = _create(loading, row, values)
        report.created += 1
        _bring_up_to_date(loading, client, row)
        loading.watcher.made(Thing.CLIENT, [client.pk])
    else:
        changes = [*_change_fields(client, values), *_bring_up_to_date(loading, client, row)]
        report.changed += bool(changes)
        report.unchanged += not changes
        report.changes.extend(f"{client.key}: {change}" for change in changes)
        if not changes:
            loading.watcher.said_again(Thing.CLIENT, [client.pk])
            return
        loading.watcher.changed(Thing.CLIENT, [client.pk])
    report.client_ids.add(client.pk)


def _values(loading: _Loading, row: ClientRow) -> Iterator[tuple[str, Any]]:
    """What the row says of each field for which the file has a column."""
    meant = {
        "name": row.name or row.key,
        "email": row.email or "",
        "time_zone": row.time_zone or loading.studio.time_zone,
        "unit": row.unit or MassUnit.KILOGRAM.value,
        "joined_on": row.joined_on,
        "sends": row.sends or Client.Sends.EACH.value,
        "minutes": row.minutes,
        "goal": row.goal or "",
    }
    return ((name, value) for name, value in meant.items() if name in loading.table)


def _create(loading: _Loading, row: ClientRow, values: dict[str, Any]) -> Client:
    defaults = {"name": row.key, "time_zone": loading.studio.time_zone}
    return Client.objects.create(
        studio=loading.studio, lead=loading.by, key=row.key, key_folded=fold(row.key), **defaults | values
    )


def _change_fields(client: Client, values: dict[str, Any]) -> list[str]:
    changes = []
    for name, value in values.items():
        before = getattr(client, name)
        if before != value:
            changes.append(f"{name.replace('_', ' ')} {_said(before)} → {_said(value)}")
            setattr(client, name, value)
    if changes:
        client.version += 1
        client.save(update_fields=[*values, "version"])
    return changes


def _said(value: Any) -> str:
    return "none" if value in (None, "") else str(value)


def _bring_up_to_date(loading: _Loading, client: Client, row: ClientRow) -> list[str]:
    """Consent, kit and pauses; tells what changed."""
    changes = _attest_consent(client, client.today(loading.now))
    if row.kit is not None:
        changes += _replace_home_kit(client, row)
    if row.pauses is not None:
        changes += _replace_pauses(client, row.pauses, loading.now)
    return changes


def _attest_consent(client: Client, today: date) -> list[str]:
    """Once for each version; one that was withdrawn is not attested again."""
    if any((given.purpose, given.version) == (CONSENT_PURPOSE, CONSENT_VERSION) for given in client.consents.all()):
        return []
    client.consents.create(
        purpose=CONSENT_PURPOSE, version=CONSENT_VERSION, given_on=today, source=Consent.Source.COACH
    )
    return ["consent to the training record attested"]


def _replace_home_kit(client: Client, row: ClientRow) -> list[str]:
    before = {fold(item.implement): item for item in client.kit.all() if item.place == KitItem.Place.HOME}
    changes = []
    for entry in row.kit or ():
        item = before.pop(fold(entry.implement), None) or KitItem(client=client, implement=entry.implement)
        meant = {"loads_entered": entry.loads_entered, "unit": client.unit, "loads_g": list(entry.loads_g)}
        if any(getattr(item, name) != value for name, value in meant.items()):
            changes.append(f"kit {entry.implement}: {_said(item.loads_entered)} → {entry.loads_entered} {client.unit}")
            for name, value in meant.items():
                setattr(item, name, value)
            item.save()
    for item in before.values():
        item.delete()
    return [*changes, *(f"kit {item.implement}: gone" for item in before.values())]


def _replace_pauses(client: Client, pauses: tuple[tuple[date, date], ...], now: datetime) -> list[str]:
    """The file speaks for the coach: what the client entered stays as it is."""
    before = {(pause.from_on, pause.until_on): pause for pause in client.pauses.all() if _is_of_coach(pause)}
    added = [days for days in pauses if days not in before]
    gone = [pause for days, pause in before.items() if days not in pauses]
    for first, last in added:
        client.pauses.create(from_on=first, until_on=last)
    for pause in gone:
        pause.withdrawn_at = now
        pause.save(update_fields=["withdrawn_at"])
    return [
        *(f"pause {first} to {last} added" for first, last in added),
        *(f"pause {pause.from_on} to {pause.until_on} withdrawn" for pause in gone),
    ]


def _is_of_coach(pause: Pause) -> bool:
    return pause.withdrawn_at is None and pause.entered_by == Pause.By.COACH
