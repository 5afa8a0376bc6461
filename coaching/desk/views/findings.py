"""What a coach does about a finding: seen, put aside, closed.

A finding is named by client, kind and subject rather than by its row: a page may show findings that were computed
for it, because midnight has passed since facts were stored.
"""

from __future__ import annotations

from collections.abc import Callable
from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from coaching.desk.as_of import read_when
from coaching.desk.findings import SEVERAL_EXERCISES
from coaching.desk.forms import ActForm, CloseForm, PutAsideForm, SeenForm
from coaching.desk.going_back import way_back
from coaching.monitoring import acts
from coaching.monitoring.models import Flag, Kind
from coaching.monitoring.piles import URGENCY_ORDER
from roster.people.models import Client

Act = Callable[[Flag, ActForm], None]


@require_POST
@login_required
def flag_seen(request: HttpRequest, public_id: UUID, kind: str) -> HttpResponse:
    def mark_seen(flag: Flag, form: ActForm) -> None:
        acts.mark_seen(flag=flag, by=request.user, on=form.on, note=form.cleaned_data["text"])

    return _act(request, public_id, kind, SeenForm, mark_seen)


@require_POST
@login_required
def flag_put_aside(request: HttpRequest, public_id: UUID, kind: str) -> HttpResponse:
    def put_aside(flag: Flag, form: ActForm) -> None:
        words = form.cleaned_data
        acts.put_aside(flag=flag, by=request.user, on=form.on, until=words["until"], note=words["text"])

    return _act(request, public_id, kind, PutAsideForm, put_aside)


@require_POST
@login_required
def flag_close(request: HttpRequest, public_id: UUID, kind: str) -> HttpResponse:
    def close(flag: Flag, form: ActForm) -> None:
        acts.close(flag=flag, by=request.user, on=form.on, reason=form.cleaned_data["text"])

    return _act(request, public_id, kind, CloseForm, close)


def _act(request: HttpRequest, public_id: UUID, kind: str, form_class: type[ActForm], act: Act) -> HttpResponse:
    now = timezone.now()
    client = get_object_or_404(Client.objects.changeable_by(request.user), public_id=public_id)
    if kind not in Kind.values:
        raise Http404
    form = form_class(request.POST, on=client.today(now))
    with acts.holding(client, now):
        flags = _flags_meant(request, client, kind)
        is_done = bool(flags) and _is_done(request, client, flags, form, act)
    if not flags:
        messages.warning(request, f"{client.name}, {Kind(kind).label}: this is no longer so; nothing was changed.")
        return redirect(way_back(request))
    if not is_done:
        context = {"back": way_back(request), "client": client, "flags": flags, "form": form}
        context |= {"stood": acts.stamp_of(flags), "when": read_when(request)}
        return render(request, "desk/act_again.html", context, status=422)
    messages.success(request, f"{form.done}: {client.name}, {Kind(kind).label}.")
    return redirect(way_back(request))


def _flags_meant(request: HttpRequest, client: Client, kind: str) -> list[Flag]:
    """The standing flags behind the sentence that was acted on, worst first."""
    flags = Flag.objects.standing().filter(client=client, kind=kind)
    if kind in SEVERAL_EXERCISES:
        flags = flags.filter(subject__in=request.POST.getlist("subject"))
    return sorted(flags, key=lambda flag: URGENCY_ORDER[flag.urgency])


def _is_done(request: HttpRequest, client: Client, flags: list[Flag], form: ActForm, act: Act) -> bool:
    """All that the form says or nothing."""
    if not form.is_valid() or not _stands_as_seen(request, flags, form):
        return False
    try:
        with transaction.atomic():
            _keep_contact(request, client, form)
            for flag in flags:
                act(flag, form)
    except acts.ActRefused as refused:
        form.add_error(None, str(refused))
        return False
    return True


def _stands_as_seen(request: HttpRequest, flags: list[Flag], form: ActForm) -> bool:
    """Nobody decides about something else than what they saw."""
    if URGENCY_ORDER[flags[0].urgency] < URGENCY_ORDER.get(request.POST.get("urgency", ""), 0):
        form.add_error(None, "It has become worse since you looked. This is how it stands now.")
    elif request.POST.get("stood", acts.stamp_of(flags)) != acts.stamp_of(flags):
        form.add_error(None, "It has changed since you looked. This is how it stands now; below is what you asked for.")
    return form.is_valid()


def _keep_contact(request: HttpRequest, client: Client, form: ActForm) -> None:
    how, text = form.cleaned_data["how"], form.cleaned_data["text"]
    if how:
        acts.keep_contact(client=client, by=request.user, on=form.on, how=how, outcome=text)
