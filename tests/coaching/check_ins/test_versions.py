from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from unittest.mock import patch

import pytest
from django.db import IntegrityError

from coaching.check_ins import versions
from coaching.check_ins.content import Pack, Part
from coaching.check_ins.edits import Edits
from coaching.check_ins.models import PackVersion
from coaching.check_ins.versions import Overtaken, keep_version, mark_given, mark_not_given, newest_of
from roster.people.models import Client, Coach
from tests.coaching.check_ins.packs import FEBRUARY, MARCH, a_pack

NOW = datetime(2026, 4, 2, 9, tzinfo=UTC)


def keep(
    client: Client, coach: Coach, after: int = 0, edits: Edits | None = None, pack: Pack | None = None
) -> PackVersion:
    return keep_version(
        client=client, composed=pack or a_pack(), edits=edits or Edits(), after=after, by=coach, now=NOW
    )


def test_a_kept_version_says_what_was_composed_with_what_was_changed(client: Client, coach: Coach) -> None:
    said, hidden = {0: "It was 9 of 12 sessions."}, frozenset({Part.WEEKS})
    edits = Edits(sentences=said, hidden=hidden, remarks={Part.FOUND: "Ask."})

    keep(client, coach, edits=edits)

    kept = PackVersion.objects.get()
    assert kept.composed == a_pack()
    assert kept.changes == edits
    assert kept.pack.sentences[0].text == "It was 9 of 12 sessions."
    assert kept.pack.remarks == {Part.FOUND: "Ask."}
    assert (kept.number, kept.title, kept.made_by, kept.made_at) == (1, "March 2026", coach, NOW)


def test_an_edit_makes_a_new_version_and_leaves_the_old_one_as_it_was(client: Client, coach: Coach) -> None:
    first = keep(client, coach)

    second = keep(client, coach, after=1, edits=Edits(remarks={Part.WEEKS: "Away."}))

    assert newest_of(client, MARCH.first, MARCH.last) == second
    assert second.number == 2
    assert PackVersion.objects.get(pk=first.pk).pack == a_pack()


@pytest.mark.parametrize("after", [0, 2])
def test_an_edit_of_what_is_not_the_newest_is_refused(client: Client, coach: Coach, after: int) -> None:
    keep(client, coach)

    with pytest.raises(Overtaken):
        keep(client, coach, after=after)

    assert PackVersion.objects.count() == 1


def test_of_two_who_keep_at_once_one_is_refused(client: Client, coach: Coach) -> None:
    keep(client, coach)

    # What a second request sees that looked before the first had written.
    with patch.object(versions, "newest_of", return_value=None), pytest.raises(Overtaken):
        keep(client, coach)

    assert PackVersion.objects.count() == 1


def test_each_period_counts_for_itself(client: Client, coach: Coach) -> None:
    keep(client, coach)

    assert keep(client, coach, pack=replace(a_pack(), period=FEBRUARY)).number == 1


def test_giving_a_version_changes_nothing_that_it_says(client: Client, coach: Coach) -> None:
    version = keep(client, coach)

    mark_given(version=version, how=PackVersion.How.SENT, to="", on=date(2026, 4, 3), by=coach)

    given = PackVersion.objects.get()
    assert (given.given_on, given.given_how, given.given_by) == (date(2026, 4, 3), "sent", coach)
    assert given.pack == a_pack()
    mark_not_given(version=given)
    assert PackVersion.objects.filter(given_on=None, given_how="", given_by=None).exists()


def test_nothing_is_given_on_a_day_but_nohow(client: Client, coach: Coach) -> None:
    version = keep(client, coach)
    version.given_on = date(2026, 4, 3)

    with pytest.raises(IntegrityError, match="pack_was_given_on_a_day_and_somehow_or_not"):
        version.save()


def test_a_version_is_seen_and_changed_by_whoever_may_see_and_change_the_client(
    client: Client, coach: Coach, outsider: Coach
) -> None:
    version = keep(client, coach)

    assert list(PackVersion.objects.visible_to(coach)) == list(PackVersion.objects.changeable_by(coach)) == [version]
    assert not PackVersion.objects.visible_to(outsider).exists()
    assert not PackVersion.objects.changeable_by(outsider).exists()
