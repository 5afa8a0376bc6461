"""The check-in pack of a client: looked at, edited, marked as given, taken along."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from coaching.check_ins.asking import blocks_of
from coaching.check_ins.content import Paper
from coaching.check_ins.edits import EditRefused
from coaching.check_ins.models import PackVersion
from coaching.check_ins.versions import Overtaken, keep_version, mark_given, mark_not_given
from coaching.desk.pack_asked import LIVE, PackAsked, read_pack_asked
from coaching.desk.pack_forms import NOT_GIVEN, GivenForm, Typed, fields_of, typed_in
from coaching.desk.pack_page import build_pack_page
from coaching.desk.pack_takes import takes_of
from roster.people.models import Client, Coach, ViewRecord

# In the record of who but the lead coach looked at whom.
LOOKED_AT = "check-in pack"
OVERTAKEN = "This has changed since you looked. Your words are in the fields; what stands there now is beneath each."
RECORD_CHANGED = "The record has changed since you looked: this is the pack as it stands now. Nothing was marked."


@require_safe
@login_required
def client_pack(request: HttpRequest, public_id: UUID) -> HttpResponse:
    client = get_client_or_404(request, public_id)
    asked = read_pack_asked(request, client, request.GET.get("version", ""))
    ViewRecord.objects.add_looks(request.user, [client], LOOKED_AT)
    can_change = request.user.role != Coach.Role.ASSISTANT
    if can_change and "edit" in request.GET and not asked.composed.nothing:
        return _edit_page(request, asked)
    today = client.today(timezone.now())
    context = _context(asked) | {
        "blocks": blocks_of(client),
        "can_change": can_change,
        "given_form": GivenForm(since=asked.period.first, today=today, initial={"on": today}),
        "page": build_pack_page(asked.pack, asked.paper),
        "takes": takes_of(asked),
        "versions": PackVersion.objects.of(client, asked.period.first, asked.period.last)
        .light().select_related("made_by", "given_by"),
    }  # fmt: skip
    return render(request, "desk/pack.html", context)


@require_POST
@login_required
def pack_edit(request: HttpRequest, public_id: UUID) -> HttpResponse:
    client, now = _get_changeable_or_404(request, public_id), timezone.now()
    asked, typed = _asked_of_form(request, client), typed_in(request.POST)
    try:
        if not _stands_as_seen(request, asked):
            raise Overtaken
        edits = typed.edits_of(asked.composed)
        if asked.version and edits == asked.edits:
            messages.info(request, "Nothing was changed, so no version was added.")
            return redirect(_address(asked, asked.of))
        version = keep_version(
            client=client, composed=asked.composed, edits=edits, after=asked.after, by=request.user, now=now
        )
    except EditRefused as refused:
        return _edit_page(request, asked, typed, fault=str(refused), status=422)
    except Overtaken:
        return _edit_page(request, read_pack_asked(request, client), typed, fault=OVERTAKEN, status=422)
    messages.success(request, f"Kept as version {version.number}.")
    return redirect(_address(asked, str(version.number)))


@require_POST
@login_required
def pack_given(request: HttpRequest, public_id: UUID) -> HttpResponse:
    client, now = _get_changeable_or_404(request, public_id), timezone.now()
    asked = _asked_of_form(request, client)
    form = GivenForm(request.POST, since=asked.period.first, today=client.today(now))
    if not form.is_valid():
        for fault in [fault for faults in form.errors.values() for fault in faults]:
            messages.error(request, fault)
        return redirect(_address(asked, asked.of))
    if not _stands_as_seen(request, asked):
        messages.warning(request, RECORD_CHANGED)
        return redirect(_address(asked, LIVE))
    try:
        version = _mark(request, asked, form)
    except Overtaken:
        messages.warning(request, RECORD_CHANGED)
        return redirect(_address(asked, LIVE))
    messages.success(request, f"Version {version.number} is marked as {version.given_word}.")
    return redirect(_address(asked, str(version.number)))


@transaction.atomic
def _mark(request: HttpRequest, asked: PackAsked, form: GivenForm) -> PackVersion:
    """What was not kept yet is kept by being given: it has to be there as it was then."""
    words = form.cleaned_data
    version = asked.version or keep_version(
        client=asked.client, composed=asked.composed, edits=asked.edits, after=asked.after, by=request.user,
        now=timezone.now(),
    )  # fmt: skip
    if words["how"] == NOT_GIVEN:
        mark_not_given(version=version)
    else:
        mark_given(version=version, how=words["how"], to=words["to"], on=words["on"], by=request.user)
    return version


def _asked_of_form(request: HttpRequest, client: Client) -> PackAsked:
    """What the form came from; its period stands in the address."""
    return read_pack_asked(request, client, request.POST.get("of", ""))


def _stands_as_seen(request: HttpRequest, asked: PackAsked) -> bool:
    """Nobody edits, or gives, something else than what they saw."""
    return (request.POST.get("stood", ""), request.POST.get("after")) == (asked.stamp, str(asked.after))


def _edit_page(
    request: HttpRequest, asked: PackAsked, typed: Typed | None = None, *, fault: str = "", status: int = 200
) -> HttpResponse:
    pack = build_pack_page(asked.pack, Paper.MINE, with_hidden=True)
    hidden = typed.hidden if typed else asked.edits.hidden
    context = _context(asked) | {"fault": fault, "fields": fields_of(asked, typed), "hidden": hidden, "page": pack}
    return render(request, "desk/pack_edit.html", context, status=status)


def _context(asked: PackAsked) -> dict[str, Any]:
    return {"asked": asked, "client": asked.client, "pack": asked.pack, "papers": list(Paper)}


def _address(asked: PackAsked, version: str) -> str:
    return f"{reverse('client_pack', args=[asked.client.public_id])}?{asked.days}&version={version}"


def get_client_or_404(request: HttpRequest, public_id: UUID) -> Client:
    visible = Client.objects.visible_to(request.user).select_related("studio", "lead")
    return get_object_or_404(visible, public_id=public_id)


def _get_changeable_or_404(request: HttpRequest, public_id: UUID) -> Client:
    changeable = Client.objects.changeable_by(request.user).select_related("studio", "lead")
    return get_object_or_404(changeable, public_id=public_id)
