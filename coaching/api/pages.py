"""Pages of the desk about the interface: access for programs, and the documents."""

from __future__ import annotations

from uuid import UUID

from allauth.account.decorators import reauthentication_required
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from coaching.api.description import describe
from coaching.api.documents import operations
from coaching.api.forms import TokenForm
from coaching.api.models import AccessToken, Scope
from coaching.api.problems import ALL_PROBLEMS
from coaching.api.tokens import MOST_TOKENS, make_token, tokens_of


@require_http_methods(["GET", "POST"])
@login_required
@reauthentication_required
def programs(request: HttpRequest) -> HttpResponse:
    """The list, and the form for another one; a token that was just made is shown here, once."""
    form = TokenForm(request.POST if request.method == "POST" else None)
    tokens = tokens_of(request.user, timezone.now())
    made = None
    if request.method == "POST" and len(tokens) >= MOST_TOKENS:
        form.add_error(None, f"There are {MOST_TOKENS} already. Take one away first.")
    elif form.is_valid():
        row, made = make_token(coach=request.user, **form.cleaned_data)
        tokens, form = [row, *tokens], TokenForm()
    status = 422 if form.is_bound and not made else 200
    return render(request, "api/programs.html", {"form": form, "made": made, "tokens": tokens}, status=status)


@require_POST
@login_required
def revoke(request: HttpRequest, public_id: UUID) -> HttpResponse:
    token = get_object_or_404(AccessToken, user=request.user, public_id=public_id)
    token.delete()
    messages.success(request, f"Taken away: {token.name}. It opens nothing any more.")
    return redirect("api:programs")


@require_safe
@login_required
def documents(request: HttpRequest) -> HttpResponse:
    description = describe()
    context = {
        "description": description["info"]["description"],
        "operations": operations(description),
        "problems": ALL_PROBLEMS,
        "scopes": Scope.choices,
    }
    return render(request, "api/documents.html", context)
