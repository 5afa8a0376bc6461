from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4
from zipfile import ZipFile

import pytest
from django.utils import timezone
from time_machine import TimeMachineFixture

from coaching.check_ins import batches
from coaching.check_ins.batches import (
    ask_for_batch,
    folder_of,
    forget_batches,
    go_on_with_batches,
    work_through,
    zip_of,
)
from coaching.check_ins.content import Pack
from coaching.check_ins.models import PackBatch, PackOfBatch, PackVersion
from roster.people.models import Client, Coach
from tests.coaching.check_ins.packs import MARCH
from tests.coaching.factories import (
    BlockFactory,
    ClientFactory,
    CoachFactory,
    PlannedExerciseFactory,
    PlannedSessionFactory,
)

pytestmark = pytest.mark.usefixtures("wednesday")
State = PackOfBatch.State


@pytest.fixture(autouse=True)
def _home(settings: Any, tmp_path: Path) -> None:
    settings.HOME_DIR = tmp_path


@pytest.fixture
def batch(coach: Coach) -> PackBatch:
    """Of three: two with a plan in March, and one who joined later."""
    people = [ClientFactory(lead=coach, key=key, name=key.title()) for key in ("ada", "bo")]
    for client in people:
        block = BlockFactory(client=client, starts_on=date(2026, 3, 9), weeks=2)
        PlannedExerciseFactory(session=PlannedSessionFactory(block=block, suggested_on=date(2026, 3, 9)))
    late = ClientFactory(lead=coach, key="cleo", name="Cleo", joined_on=date(2026, 4, 12))
    return ask_for_batch(clients=[*people, late], period=MARCH, size="a4", by=coach, now=timezone.now())


def states(batch: PackBatch) -> list[str]:
    return list(batch.packs.order_by("client__key").values_list("state", flat=True))


def names_in(batch: PackBatch) -> list[str]:
    with ZipFile(zip_of(batch)) as archive:
        assert archive.testzip() is None
        return sorted(name.split("-")[0] + name[name.rfind("-") :] for name in archive.namelist())


def test_a_batch_is_one_zip_of_papers_and_workbooks_and_says_who_has_none_and_why(batch: PackBatch) -> None:
    assert work_through(batch.pk)

    assert names_in(batch) == ["ada-mine.pdf", "ada-mine.xlsx", "ada-theirs.pdf", "bo-mine.pdf", "bo-mine.xlsx",
                               "bo-theirs.pdf", "who-none.txt"]  # fmt: skip
    assert states(batch) == [State.MADE, State.MADE, State.NOTHING]
    with ZipFile(zip_of(batch)) as archive:
        told = archive.read(batches.LIST_NAME).decode()
    assert told.startswith("March 2026\ncleo, Cleo: Joined on 12 April 2026")
    assert [path.name for path in folder_of(batch).iterdir()] == [batches.ZIP_NAME]


def test_what_was_made_before_a_kill_is_kept_and_not_made_again(
    batch: PackBatch, time_machine: TimeMachineFixture
) -> None:
    ada = batch.packs.get(client__key="ada")
    folder_of(batch).mkdir(parents=True)
    (folder_of(batch) / "ada-mine.pdf").write_bytes(b"made before")
    PackOfBatch.objects.filter(pk=ada.pk).update(state=State.MADE)
    PackBatch.objects.update(worker=uuid4(), alive_at=timezone.now())
    time_machine.shift(timedelta(minutes=2))

    assert go_on_with_batches(timezone.now()) == 1

    assert names_in(batch) == ["ada-mine.pdf", "bo-mine.pdf", "bo-mine.xlsx", "bo-theirs.pdf", "who-none.txt"]
    with ZipFile(zip_of(batch)) as archive:
        assert archive.read("ada-mine.pdf") == b"made before"


def test_whoever_goes_on_hears_of_each_pack_from_none_on(
    batch: PackBatch, time_machine: TimeMachineFixture
) -> None:
    time_machine.shift(timedelta(minutes=2))
    heard: list[int] = []

    go_on_with_batches(timezone.now(), progress=heard.append)

    assert heard == [0, 1, 2, 3]


def test_a_batch_that_finds_no_room_keeps_no_other_back_and_is_gone_on_with_later(
    batch: PackBatch, coach: Coach, time_machine: TimeMachineFixture
) -> None:
    folder_of(batch).parent.mkdir(parents=True)
    folder_of(batch).write_text("in the way")
    other = ask_for_batch(clients=Client.objects.all(), period=MARCH, size="a4", by=coach, now=timezone.now())
    time_machine.shift(timedelta(minutes=2))
    assert go_on_with_batches(timezone.now()) == 1
    assert (states(batch), zip_of(other).exists()) == ([State.WAITING] * 3, True)

    folder_of(batch).unlink()
    time_machine.shift(timedelta(minutes=2))

    assert go_on_with_batches(timezone.now()) == 1
    assert states(batch) == [State.MADE, State.MADE, State.NOTHING]


def test_nobody_takes_over_from_a_maker_who_gives_signs_of_life(batch: PackBatch) -> None:
    PackBatch.objects.update(worker=uuid4(), alive_at=timezone.now())

    assert not work_through(batch.pk)
    assert go_on_with_batches(timezone.now()) == 0
    assert states(batch) == [State.WAITING] * 3


def test_a_maker_who_was_taken_over_from_stops_and_changes_nothing(batch: PackBatch) -> None:
    mine = PackBatch.objects.get()
    mine.worker = uuid4()
    PackBatch.objects.update(worker=uuid4(), alive_at=timezone.now())

    with pytest.raises(batches.TakenOver):
        batches._tell(mine, Client.objects.get(key="ada"), State.MADE, "")

    assert states(batch) == [State.WAITING] * 3


def test_a_finished_batch_is_not_made_again(batch: PackBatch) -> None:
    assert work_through(batch.pk)

    assert not work_through(batch.pk)


def test_a_batch_is_gone_from_the_disk_after_a_week(batch: PackBatch, time_machine: TimeMachineFixture) -> None:
    work_through(batch.pk)
    time_machine.shift(timedelta(days=6, hours=23))
    assert forget_batches(timezone.now()) == 0

    time_machine.shift(timedelta(hours=2))

    assert forget_batches(timezone.now()) == 1
    assert not PackBatch.objects.exists()
    assert not folder_of(batch).exists()


def test_one_pack_that_can_not_be_made_keeps_nobody_elses_back(
    batch: PackBatch, monkeypatch: pytest.MonkeyPatch
) -> None:
    ours = batches.documents_of

    def fails_for_ada(pack: Pack, *more: Any) -> Iterator[tuple[str, bytes]]:
        if pack.client_name == "Ada":
            raise ValueError
        yield from ours(pack, *more)

    monkeypatch.setattr(batches, "documents_of", fails_for_ada)

    assert work_through(batch.pk)

    assert states(batch) == [State.FAILED, State.MADE, State.NOTHING]


def test_nor_does_one_whose_kept_pack_can_not_be_read_any_more(batch: PackBatch, coach: Coach) -> None:
    PackVersion.objects.create(
        client=Client.objects.get(key="ada"), first=MARCH.first, last=MARCH.last, title=MARCH.title, number=1,
        made_by=coach, made_at=timezone.now(), content={"format": 0}, edits={},
    )  # fmt: skip

    assert work_through(batch.pk)

    assert states(batch) == [State.FAILED, State.MADE, State.NOTHING]
    assert f"ada, Ada: {batches.NOT_MADE}" in ZipFile(zip_of(batch)).read(batches.LIST_NAME).decode()


@pytest.mark.parametrize(("who", "sees"), [("owner", True), ("maker", True), ("colleague", False), ("outsider", False)])
def test_a_batch_is_its_makers_and_the_owners(
    coach: Coach, client: Client, outsider: Coach, who: str, sees: bool
) -> None:
    maker, colleague = CoachFactory(studio=coach.studio), CoachFactory(studio=coach.studio)
    Client.objects.update(lead=maker)
    ask_for_batch(clients=[client], period=MARCH, size="a4", by=maker, now=timezone.now())
    people = {"owner": coach, "maker": maker, "colleague": colleague, "outsider": outsider}

    assert PackBatch.objects.visible_to(people[who]).exists() == sees


def test_a_batch_is_no_longer_its_makers_once_a_client_in_it_is_somebody_elses(coach: Coach, client: Client) -> None:
    maker = CoachFactory(studio=coach.studio)
    Client.objects.update(lead=maker)
    ask_for_batch(clients=[client], period=MARCH, size="a4", by=maker, now=timezone.now())

    Client.objects.update(lead=coach)

    assert not PackBatch.objects.visible_to(maker).exists()
