"""Packs of many clients as one ZIP, made in the background of this process, or of whichever goes on with it.

A batch is claimed by a conditional update, and a sign of life is given after each pack: where the maker was killed,
another goes on a minute later. Documents that are there already are kept; the ZIP is made of them at the end.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime, timedelta
from itertools import count
from pathlib import Path
from threading import Thread
from uuid import UUID, uuid4
from zipfile import ZIP_STORED, ZipFile

import structlog
from django.conf import settings
from django.db import DatabaseError, connection, transaction
from django.db.models import Q
from django.utils import timezone

from coaching.check_ins.content import Pack, Paper, Period
from coaching.check_ins.documents import Kind
from coaching.check_ins.making import documents_of, packs_to_give
from coaching.check_ins.models import PackBatch, PackOfBatch
from roster.people.models import Client, Coach

KEPT_FOR = timedelta(days=7)
# Without a sign of life for so long, whoever made it is gone.
GONE_AFTER = timedelta(minutes=1)
# Clients whose packs are composed together.
AT_ONCE = 25
KINDS = (Kind.PDF, Kind.WORKBOOK)
ZIP_NAME = "packs.zip"
LIST_NAME = "who-has-none.txt"
NOT_MADE = "It could not be made; what went wrong is in the log."
State = PackOfBatch.State
log = structlog.stdlib.get_logger(__name__)


class TakenOver(Exception):
    """Somebody else has gone on with the batch meanwhile."""


@transaction.atomic
def ask_for_batch(*, clients: Iterable[Client], period: Period, size: str, by: Coach, now: datetime) -> PackBatch:
    batch = PackBatch.objects.create(
        studio=by.studio, by=by, first=period.first, last=period.last, title=period.title, size=size, asked_at=now
    )
    PackOfBatch.objects.bulk_create(PackOfBatch(batch=batch, client=client) for client in clients)
    return batch


def start(batch: PackBatch) -> None:
    """Once what was asked for is written."""
    transaction.on_commit(lambda: Thread(target=_work_aside, args=(batch.pk,), daemon=True).start())


def _work_aside(batch_id: int) -> None:
    try:
        _is_made(batch_id)
    finally:
        connection.close()


def _is_made(batch_id: int, progress: Callable[[int], None] | None = None) -> bool:
    """Whatever goes wrong with it is in the log, and keeps nothing else back that is due."""
    try:
        return work_through(batch_id, progress)
    except Exception:
        log.exception("pack_batch_failed")
        return False


def work_through(batch_id: int, progress: Callable[[int], None] | None = None) -> bool:
    """Makes what waits; False where another is at it, or nothing is left to do."""
    worker = uuid4()
    if not _claim(batch_id, worker):
        return False
    batch = PackBatch.objects.get(pk=batch_id)
    counting = _counting(progress)
    try:
        for waiting in _portions(batch):
            _make(batch, waiting, counting)
        _finish(batch)
    except TakenOver:
        if not PackBatch.objects.filter(pk=batch_id).exists():
            shutil.rmtree(folder_of(batch), ignore_errors=True)
        return False
    return True


def _counting(progress: Callable[[int], None] | None) -> Callable[[], None]:
    """Tells how many packs were looked at, from none on."""
    done = count()
    if progress is None:
        return lambda: None
    progress(next(done))
    return lambda: progress(next(done))


def is_at_work(batch: PackBatch, now: datetime) -> bool:
    return batch.finished_at is None and (batch.alive_at or batch.asked_at) > now - GONE_AFTER


def _claim(batch_id: int, worker: UUID) -> bool:
    now = timezone.now()
    free = Q(alive_at__isnull=True) | Q(alive_at__lte=now - GONE_AFTER)
    of_batch = PackBatch.objects.filter(free, pk=batch_id, finished_at__isnull=True)
    return bool(of_batch.update(worker=worker, alive_at=now))


def _portions(batch: PackBatch) -> Iterator[list[Client]]:
    waiting = Client.objects.filter(pk__in=batch.packs.filter(state=State.WAITING).values("client_id"))
    clients = list(waiting.select_related("studio", "lead").order_by("key_folded"))
    yield from (clients[start : start + AT_ONCE] for start in range(0, len(clients), AT_ONCE))


def _make(batch: PackBatch, clients: list[Client], counting: Callable[[], None]) -> None:
    folder = folder_of(batch)
    folder.mkdir(parents=True, exist_ok=True)
    period = Period(batch.first, batch.last, batch.title)
    for client, pack in _packs(clients, period):
        state, why = State.FAILED, NOT_MADE
        if pack:
            state, why = State.NOTHING, pack.nothing
        if pack and not why:
            state, why = _written(folder, documents_of(pack, list(Paper), KINDS, batch.size))
        _tell(batch, client, state, why)
        counting()


def _packs(clients: list[Client], period: Period) -> list[tuple[Client, Pack | None]]:
    """Composed together; one by one where somebody's can't be, which then keeps nobody else's back."""
    try:
        return list(packs_to_give(clients, period, timezone.now()))
    except (OSError, DatabaseError):
        # No room, or no database: the next one would meet the same.
        raise
    except Exception:
        if len(clients) > 1:
            return [made for client in clients for made in _packs([client], period)]
        log.exception("pack_not_composed")
        return [(clients[0], None)]


def _written(folder: Path, documents: Iterable[tuple[str, bytes]]) -> tuple[str, str]:
    """One pack that can't be made keeps nobody else's back."""
    try:
        for name, content in documents:
            _put(folder / name, content)
    except OSError:
        # No room, or no right: the next one would meet the same.
        raise
    except Exception:
        log.exception("pack_not_made")
        return State.FAILED, NOT_MADE
    return State.MADE, ""


def _put(path: Path, content: bytes) -> None:
    half = path.with_suffix(".half")
    half.write_bytes(content)
    half.replace(path)


def _tell(batch: PackBatch, client: Client, state: str, why: str) -> None:
    """What became of it, and that somebody is at it: only as long as that is us."""
    with transaction.atomic():
        if not PackBatch.objects.filter(pk=batch.pk, worker=batch.worker).update(alive_at=timezone.now()):
            raise TakenOver
        batch.packs.filter(client=client, state=State.WAITING).update(state=state, why=why)


def _finish(batch: PackBatch) -> None:
    folder = folder_of(batch)
    folder.mkdir(parents=True, exist_ok=True)
    half = folder / f"{ZIP_NAME}.half"
    # PDF and XLSX are packed already.
    with ZipFile(half, "w", ZIP_STORED) as archive:
        for path in sorted(folder.iterdir()):
            if path.suffix in (".pdf", ".xlsx"):
                archive.write(path, path.name)
        archive.writestr(LIST_NAME, "\n".join([*_lines_of_none(batch), ""]))
    half.replace(zip_of(batch))
    mine = PackBatch.objects.filter(pk=batch.pk, worker=batch.worker)
    if not mine.update(finished_at=timezone.now()):
        raise TakenOver
    for path in folder.iterdir():
        if path != zip_of(batch):
            path.unlink()


def _lines_of_none(batch: PackBatch) -> list[str]:
    without = batch.packs.exclude(state=State.MADE).select_related("client").order_by("client__key_folded")
    lines = [f"{one.client.key}, {one.client.name}: {one.why}" for one in without]
    return [f"{batch.title}", *(lines or ["Everybody has a pack."])]


def go_on_with_batches(now: datetime, progress: Callable[[int], None] | None = None) -> int:
    """Those whose maker is gone; answers how many were made. One that fails is tried again the next time."""
    left = PackBatch.objects.filter(finished_at__isnull=True).filter(
        Q(alive_at__isnull=True, asked_at__lte=now - GONE_AFTER) | Q(alive_at__lte=now - GONE_AFTER)
    )
    return sum(_is_made(pk, progress) for pk in left.values_list("pk", flat=True))


def forget_batches(now: datetime) -> int:
    """Those whose time is over, with what they left on the disk."""
    over = list(PackBatch.objects.filter(asked_at__lte=now - KEPT_FOR))
    for batch in over:
        drop(batch)
    return len(over)


def drop(batch: PackBatch) -> None:
    shutil.rmtree(folder_of(batch), ignore_errors=True)
    batch.delete()


def folder_of(batch: PackBatch) -> Path:
    return Path(settings.HOME_DIR) / "packs" / str(batch.public_id)


def zip_of(batch: PackBatch) -> Path:
    return folder_of(batch) / ZIP_NAME
