"""What a coach does about a finding: seen, put aside, closed."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from coaching.desk.as_of import read_when
from coaching.desk.forms import ActForm, CloseForm, PutAsideForm, SeenForm
from coaching.desk.going_back import way_back
from coaching.monitoring.models import Flag
from roster.people.models import Contact


@require_POST
@login_required
def flag_seen(request: HttpRequest, pk: int) -> HttpResponse:
    def mark_seen(flag: Flag, form: ActForm, contact: Contact | None) -> None:
        from coaching.monitoring import acts

        acts.mark_seen(flag=flag, by=request.user, on=form.on, note=form.cleaned_data["text"], contact=contact)

    return _act(request, pk, SeenForm, mark_seen, "Seen")


@require_POST
@login_required
def flag_put_aside(request: HttpRequest, pk: int) -> HttpResponse:
    def put_aside(flag: Flag, form: ActForm, contact: Contact | None) -> None:
        from coaching.monitoring import acts

        words = form.cleaned_data
        acts.put_aside(flag=flag, by=request.user, on=form.on, until=words["until"], note=words["text"])

    return _act(request, pk, PutAsideForm, put_aside, "Put aside")


@require_POST
@login_required
def flag_close(request: HttpRequest, pk: int) -> HttpResponse:
    def close(flag: Flag, form: ActForm, contact: Contact | None) -> None:
        from coaching.monitoring import acts

        acts.close(flag=flag, by=request.user, on=form.on, reason=form.cleaned_data["text"])

    return _act(request, pk, CloseForm, close, "Closed")


def _act(
    request: HttpRequest,
    pk: int,
    form_class: type[ActForm],
    act: Callable[[Flag, ActForm, Contact | None], None],
    done: str,
) -> HttpResponse:
    """Everything the form names or nothing; a form that is not right comes back with what was typed."""
    flag = get_object_or_404(_changeable_flags(request), pk=pk)
    form = form_class(request.POST, flag=flag, on=flag.client.today(timezone.now()))
    if not form.is_valid():
        context = {
            "also": request.POST.getlist("also"),
            "back": way_back(request),
            "flag": flag,
            "form": form,
            "when": read_when(request),
        }
        return render(request, "desk/act_again.html", context, status=422)
    with transaction.atomic():
        contact = _contact_made(request, flag, form)
        for one in (flag, *_also_meant(request, flag)):
            act(one, form, contact)
    messages.success(request, f"{done}: {flag.client.name}, {flag.get_kind_display()}.")
    return redirect(way_back(request))


def _changeable_flags(request: HttpRequest) -> QuerySet[Flag]:
    return Flag.objects.changeable_by(request.user).holding().select_related("client")


def _also_meant(request: HttpRequest, flag: Flag) -> list[Flag]:
    """The flags that stand in one sentence with this one: of the same client and kind."""
    numbers = [number for number in request.POST.getlist("also") if number.isdecimal()]
    alike = _changeable_flags(request).filter(client=flag.client, kind=flag.kind, pk__in=numbers)
    return list(alike.exclude(pk=flag.pk))


def _contact_made(request: HttpRequest, flag: Flag, form: ActForm) -> Contact | None:
    how, text = form.cleaned_data["how"], form.cleaned_data["text"]
    if not how:
        return None
    return Contact.objects.create(client=flag.client, made_by=request.user, how=how, made_on=form.on, outcome=text)
