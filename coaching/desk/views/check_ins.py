"""Check-in calls: the list of all, the page of one client's, and what is done about a call."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from coaching.check_ins import calls as acts_on_calls
from coaching.check_ins.periods import month_before
from coaching.desk.as_of import read_when
from coaching.desk.calls import read_calls
from coaching.desk.check_in_forms import AnswersForm, CallForm, HeldForm, MoveForm
from coaching.desk.check_in_list import build_groups, read_beside_calls
from coaching.desk.roster import ALL, persons, roster_of
from coaching.monitoring import reading
from coaching.monitoring.acts import holding
from roster.people.models import Client, Coach, ViewRecord

# What is done, and how it is told.
Act = Callable[[Client, CallForm, datetime], str]


@require_safe
@login_required
def check_ins(request: HttpRequest) -> HttpResponse:
    when = read_when(request)
    clients = roster_of(request.user, request.GET.get("whose", ""))
    facts = reading.read_roster(clients, as_of=when.asked, with_evidence=False)
    context = {
        "begins": request.user.studio and request.user.studio.check_ins_from,
        "can_see_all": request.user.role == Coach.Role.OWNER,
        "groups": build_groups(persons(clients), facts, read_beside_calls(clients, when.day), when.day),
        "has_clients": bool(facts.states) or Client.objects.visible_to(request.user).exists(),
        "month": month_before(when.day).first,
        "sees_all": request.GET.get("whose") == ALL,
        "turning": facts.turning,
        "when": when,
    }
    return render(request, "desk/check_ins.html", context)


@require_safe
@login_required
def client_calls(request: HttpRequest, public_id: UUID) -> HttpResponse:
    visible = Client.objects.visible_to(request.user).select_related("studio")
    client = get_object_or_404(visible, public_id=public_id)
    ViewRecord.objects.add_looks(request.user, [client], "check-in")
    return _page(request, client)


@require_POST
@login_required
def answers_note(request: HttpRequest, public_id: UUID) -> HttpResponse:
    def note(client: Client, form: CallForm, now: datetime) -> str:
        count = acts_on_calls.note_answers(client=client, by=request.user, answers=form.cleaned_data)
        return "Answers kept" if count else "Nothing new to keep"

    return _act(request, public_id, AnswersForm, note)


@require_POST
@login_required
def call_hold(request: HttpRequest, public_id: UUID) -> HttpResponse:
    def hold(client: Client, form: CallForm, now: datetime) -> str:
        acts_on_calls.hold(client=client, by=request.user, now=now, **form.cleaned_data)
        return "Call kept"

    return _act(request, public_id, HeldForm, hold)


@require_POST
@login_required
def call_move(request: HttpRequest, public_id: UUID) -> HttpResponse:
    def move(client: Client, form: CallForm, now: datetime) -> str:
        is_moved = acts_on_calls.move(client=client, to=form.cleaned_data["to"], now=now)
        return "Call moved" if is_moved else "It is due on that day already"

    return _act(request, public_id, MoveForm, move)


def _act(request: HttpRequest, public_id: UUID, form_class: type[CallForm], act: Act) -> HttpResponse:
    now = timezone.now()
    mine = Client.objects.changeable_by(request.user).select_related("studio")
    client = get_object_or_404(mine, public_id=public_id)
    form = form_class(request.POST)
    with holding(client, now):
        told = _done(request, client, form, act, now)
    if not told:
        return _page(request, client, form, status=422)
    messages.success(request, f"{told}: {client.name}.")
    return redirect("client_calls", public_id)


def _done(request: HttpRequest, client: Client, form: CallForm, act: Act, now: datetime) -> str:
    """What was done, in words; nothing where it was not."""
    stamp = acts_on_calls.stamp_of(client)
    if request.POST.get("stood", stamp) != stamp:
        form.add_error(None, "It has changed since you looked. This is how it stands now; below is what you asked for.")
    if not form.is_valid():
        return ""
    try:
        with transaction.atomic():
            return act(client, form, now)
    except acts_on_calls.CallRefused as refused:
        form.add_error(None, str(refused))
        return ""


def _page(request: HttpRequest, client: Client, sent: CallForm | None = None, status: int = 200) -> HttpResponse:
    when = read_when(request)
    day = when.asked or client.today(timezone.now())
    calls = read_calls(client, day, when.asked)
    forms = {
        "answers_form": AnswersForm(initial=calls.answers),
        "held_form": HeldForm(initial={"on": day}),
        "move_form": MoveForm(initial={"to": client.next_call_on}),
    }
    forms |= {name: sent for name, form in forms.items() if type(form) is type(sent)}
    context = forms | {
        "calls": calls,
        "can_change": not when.is_past and request.user.role != Coach.Role.ASSISTANT,
        "client": client,
        "day": day,
        "month": month_before(day).first,
        "stood": acts_on_calls.stamp_of(client),
        "when": when,
    }
    return render(request, "desk/client_calls.html", context, status=status)
