"""Contacts made and notes written, about one client."""

from __future__ import annotations

from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from coaching.desk.as_of import read_when
from coaching.desk.forms import ContactForm, NoteForm, WordForm
from coaching.desk.going_back import way_back
from roster.people.models import Client, Contact, Note


@require_POST
@login_required
def contact_add(request: HttpRequest, public_id: UUID) -> HttpResponse:
    client = _get_client_or_404(request, public_id)
    form = ContactForm(request.POST, today=client.today(timezone.now()))
    if not form.is_valid():
        return _again(request, client, form)
    return _keep_contact(request, client, form)


@require_POST
@login_required
def note_add(request: HttpRequest, public_id: UUID) -> HttpResponse:
    client = _get_client_or_404(request, public_id)
    form = NoteForm(request.POST)
    if not form.is_valid():
        return _again(request, client, form)
    if form.cleaned_data["how"]:
        return _keep_contact(request, client, form)
    Note.objects.create(client=client, written_by=request.user, text=form.cleaned_data["text"])
    messages.success(request, f"Note kept: {client.name}.")
    return redirect(way_back(request))


def _get_client_or_404(request: HttpRequest, public_id: UUID) -> Client:
    return get_object_or_404(Client.objects.changeable_by(request.user), public_id=public_id)


def _keep_contact(request: HttpRequest, client: Client, form: WordForm) -> HttpResponse:
    words = form.cleaned_data
    made_on = words.get("made_on") or client.today(timezone.now())
    Contact.objects.create(
        client=client, made_by=request.user, how=words["how"], made_on=made_on, outcome=words["text"]
    )
    messages.success(request, f"Contact kept: {client.name}.")
    return redirect(way_back(request))


def _again(request: HttpRequest, client: Client, form: WordForm) -> HttpResponse:
    context = {"back": way_back(request), "client": client, "form": form, "when": read_when(request)}
    return render(request, "desk/word_again.html", context, status=422)
