"""Packs that are kept, for the tests of their page."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from coaching.check_ins.content import Pack
from coaching.check_ins.edits import Edits
from coaching.check_ins.models import PackVersion
from coaching.check_ins.versions import keep_version, newest_of
from roster.people.models import Client, Coach
from tests.coaching.check_ins.packs import MARCH, a_pack

KEPT_AT = datetime(2026, 4, 2, 9, tzinfo=UTC)


def kept(client: Client, by: Coach, pack: Pack | None = None, **edits: Any) -> PackVersion:
    """The next version of March."""
    newest = newest_of(client, MARCH.first, MARCH.last)
    after = newest.number if newest else 0
    return keep_version(
        client=client, composed=pack or a_pack(), edits=Edits(**edits), after=after, by=by, now=KEPT_AT
    )
