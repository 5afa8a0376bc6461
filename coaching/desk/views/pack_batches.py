"""Packs of many clients at once: asked for, watched while they are made, taken along as one ZIP, put away."""

from __future__ import annotations

from collections import Counter
from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db.models import QuerySet
from django.http import FileResponse, Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from coaching.check_ins import batches
from coaching.check_ins.asking import Asked, period_of_all
from coaching.check_ins.models import PackBatch, PackOfBatch, may_make_batches
from coaching.check_ins.periods import PeriodRefused, month_before
from coaching.monitoring.models import Flag, Kind
from roster.people.models import Client, ViewRecord
from roster.people.zones import local_date

DUE = "due"


@require_safe
@login_required
def pack_batches(request: HttpRequest) -> HttpResponse:
    _refuse_readers(request)
    now = timezone.now()
    context = {
        "batches": PackBatch.objects.visible_to(request.user).select_related("by"),
        "kept_for": batches.KEPT_FOR,
        "month": month_before(local_date(now, request.user.time_zone)),
        "sizes": PackBatch.Size.choices,
    }
    return render(request, "desk/pack_batches.html", context)


@require_POST
@login_required
def pack_batch_add(request: HttpRequest) -> HttpResponse:
    _refuse_readers(request)
    now = timezone.now()
    try:
        period = period_of_all(Asked(month=request.POST.get("month", "")), local_date(now, request.user.time_zone))
    except PeriodRefused as refused:
        messages.error(request, str(refused))
        return redirect("pack_batches")
    clients = list(_clients_meant(request))
    if not clients:
        messages.warning(request, "There is nobody of whom a pack could be made.")
        return redirect("pack_batches")
    size = request.POST.get("size", "")
    size = size if size in PackBatch.Size.values else PackBatch.Size.A4.value
    batch = batches.ask_for_batch(clients=clients, period=period, size=size, by=request.user, now=now)
    batches.start(batch)
    return redirect("pack_batch", batch.public_id)


def _clients_meant(request: HttpRequest) -> QuerySet[Client]:
    active = Client.objects.visible_to(request.user).active()
    if request.POST.get("who") != DUE:
        return active
    due = Flag.objects.standing().filter(kind=Kind.CHECK_IN_DUE)
    return active.filter(pk__in=due.values("client_id"))


@require_safe
@login_required
def pack_batch(request: HttpRequest, public_id: UUID) -> HttpResponse:
    return _page(request, _get_batch_or_404(request, public_id))


def _page(request: HttpRequest, batch: PackBatch) -> HttpResponse:
    without = batch.packs.exclude(state__in=[PackOfBatch.State.MADE, PackOfBatch.State.WAITING])
    context = {
        "batch": batch,
        "counts": _counts(batch),
        "is_at_work": batches.is_at_work(batch, timezone.now()),
        "until": batch.asked_at + batches.KEPT_FOR,
        "without": without.select_related("client").order_by("client__key_folded"),
    }
    return render(request, "desk/pack_batch.html", context)


@require_safe
@login_required
def pack_batch_progress(request: HttpRequest, public_id: UUID) -> HttpResponse:
    batch = _get_batch_or_404(request, public_id)
    return JsonResponse({**_counts(batch), "finished": batch.finished_at is not None})


def _counts(batch: PackBatch) -> dict[str, int]:
    states = Counter(batch.packs.values_list("state", flat=True))
    return {"done": states.total() - states[PackOfBatch.State.WAITING.value], "of": states.total()}


@require_safe
@login_required
def pack_batch_zip(request: HttpRequest, public_id: UUID) -> HttpResponse | FileResponse:
    batch = _get_batch_or_404(request, public_id)
    if batch.finished_at is None or not batches.zip_of(batch).exists():
        messages.warning(request, "There is no ZIP of it here.")
        return _page(request, batch)
    made = batch.packs.filter(state=PackOfBatch.State.MADE)
    ViewRecord.objects.add_looks(request.user, Client.objects.filter(pk__in=made.values("client_id")), "check-in packs")
    name = f"packs-{batch.first.isoformat()}-to-{batch.last.isoformat()}.zip"
    return FileResponse(batches.zip_of(batch).open("rb"), as_attachment=True, filename=name)


@require_POST
@login_required
def pack_batch_go_on(request: HttpRequest, public_id: UUID) -> HttpResponse:
    batch = _get_batch_or_404(request, public_id)
    batches.start(batch)
    return redirect("pack_batch", batch.public_id)


@require_POST
@login_required
def pack_batch_drop(request: HttpRequest, public_id: UUID) -> HttpResponse:
    batch = _get_batch_or_404(request, public_id)
    batches.drop(batch)
    messages.success(request, f"The packs of {batch.title} are put away; what was kept of them stays kept.")
    return redirect("pack_batches")


def _refuse_readers(request: HttpRequest) -> None:
    if not may_make_batches(request.user):
        raise Http404


def _get_batch_or_404(request: HttpRequest, public_id: UUID) -> PackBatch:
    return get_object_or_404(PackBatch.objects.visible_to(request.user), public_id=public_id)
