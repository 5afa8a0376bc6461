from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coaching.check_ins.content import Figure, Pack, PackWeek, Part, Period
from coaching.check_ins.snapshots import FORMAT, SnapshotRefused, pack_of, snapshot_of, stamp_of
from coaching.monitoring.session_marks import SessionMark
from coaching.monitoring.staircases import Dot, Staircase
from tests.coaching.check_ins.packs import WITH_A_REMARK, a_pack

NUMBERS = st.floats(allow_nan=False, allow_infinity=False)
MAYBE = st.none() | NUMBERS
marks = st.builds(SessionMark, set_completion=MAYBE)
steps = st.lists(st.tuples(st.dates(), MAYBE), max_size=3)
stairs = st.builds(Staircase, steps=steps, dots=st.lists(st.builds(Dot, value=NUMBERS, e1rm=MAYBE), max_size=3))
weeks = st.builds(PackWeek, marks=st.lists(marks, max_size=3).map(tuple), tonnage_kg=MAYBE, dose=MAYBE)
packs = st.builds(
    Pack,
    figures=st.lists(st.builds(Figure, now=MAYBE, before=MAYBE), max_size=3).map(tuple),
    weeks=st.lists(weeks, max_size=2).map(tuple),
    staircases=st.lists(stairs, max_size=2).map(tuple),
    traces=st.dictionaries(st.text(max_size=9), st.text(max_size=9), max_size=3),
    hidden=st.frozensets(st.sampled_from(Part)),
    remarks=st.dictionaries(st.sampled_from(Part), st.text(max_size=9)),
)


def through_json(pack: Pack) -> Pack:
    return pack_of(json.loads(json.dumps(snapshot_of(pack))))


@settings(max_examples=40)
@given(packs)
def test_any_pack_comes_back_as_it_was(pack: Pack) -> None:
    again = through_json(pack)

    assert again == pack
    # Equal alone would take 1 for 1.0 and a word for a member of the same name. The order of a set is nobody's.
    assert repr(replace(again, hidden=frozenset())) == repr(replace(pack, hidden=frozenset()))
    assert all(isinstance(part, Part) for part in again.hidden)


def test_a_pack_of_a_month_comes_back_as_it_was() -> None:
    pack = a_pack(remarks=WITH_A_REMARK, hidden=frozenset({Part.FOUND}))

    assert through_json(pack) == pack


def test_a_pack_kept_before_a_field_was_there_gets_its_default() -> None:
    kept = snapshot_of(a_pack(nothing="Joined later."))
    del kept["pack"]["nothing"]

    assert pack_of(kept) == a_pack()


@pytest.mark.parametrize(
    "changed",
    [{"format": FORMAT + 1}, {"format": None}, {"pack": {}}, {"pack": {**snapshot_of(a_pack())["pack"], "odds": 1}}],
)
def test_what_is_no_pack_of_this_format_is_refused(changed: dict[str, Any]) -> None:
    with pytest.raises(SnapshotRefused):
        pack_of({**snapshot_of(a_pack()), **changed})


def test_the_stamp_is_another_when_anything_is_another() -> None:
    pack = a_pack()
    april = Period(date(2026, 4, 1), date(2026, 4, 30), "April 2026")
    others = [replace(pack, period=april), replace(pack, unit="lb"), replace(pack, traces={})]

    stamps = {stamp_of(one) for one in (pack, *others)}

    assert stamp_of(through_json(pack)) == stamp_of(pack)
    assert len(stamps) == 4
