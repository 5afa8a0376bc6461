"""What was loaded, and taking a load back."""

from __future__ import annotations

from uuid import UUID, uuid4

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from coaching.desk.file_forms import progress_token
from coaching.desk.undo_words import build_undo
from coaching.loads.done import what_was_done
from coaching.loads.models import Load
from coaching.loads.progress import PageProgress
from coaching.loads.undoing import UndoRefused, plan_undo, undo_load
from roster.people.models import Client

CLIENTS_NAMED = 30


@require_safe
@login_required
def load_detail(request: HttpRequest, load_id: UUID) -> HttpResponse:
    load = _get_load_or_404(request, load_id)
    touched = what_was_done(load).client_ids()
    visible = Client.objects.visible_to(request.user)
    context = {
        "clients": visible.filter(pk__in=sorted(touched)[:CLIENTS_NAMED]),
        "is_out_of_reach": not touched <= set(visible.values_list("pk", flat=True)),
        "load": load,
        "more": max(len(touched) - CLIENTS_NAMED, 0),
    }
    return render(request, "desk/load_detail.html", context)


@require_safe
@login_required
def load_undo_plan(request: HttpRequest, load_id: UUID) -> HttpResponse:
    load = _get_load_or_404(request, load_id)
    if load.undone_at:
        return redirect("load_detail", load.public_id)
    context = {"load": load, "token": uuid4(), "undo": build_undo(plan_undo(load, request.user), request.user)}
    return render(request, "desk/load_undo.html", context)


@require_POST
@login_required
def load_undo(request: HttpRequest, load_id: UUID) -> HttpResponse:
    load = _get_load_or_404(request, load_id)
    try:
        with PageProgress(request.user, progress_token(request)) as progress:
            undo_load(load, by=request.user, now=timezone.now(), progress=progress)
    except UndoRefused as refused:
        if refused.in_the_way:
            return redirect("load_undo_plan", load.public_id)
    else:
        messages.success(request, f"{load.file_name} is undone: the record stands as if it had never been loaded.")
    return redirect("load_detail", load.public_id)


def _get_load_or_404(request: HttpRequest, load_id: UUID) -> Load:
    loads = Load.objects.visible_to(request.user).select_related("by", "undone_by")
    return get_object_or_404(loads, public_id=load_id)
