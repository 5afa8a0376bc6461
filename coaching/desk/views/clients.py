from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from coaching.desk.as_of import read_when


@require_GET
@login_required
def clients(request: HttpRequest) -> HttpResponse:
    when = read_when(request)
    return render(request, "desk/clients.html", {"when": when})
