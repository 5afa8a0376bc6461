from __future__ import annotations

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from coaching.desk.as_of import read_when
from coaching.desk.choices import chosen
from coaching.desk.story import build_story
from coaching.desk.story_aside import read_aside
from coaching.desk.story_charts import Reach, build_charts, first_monday, span_of
from coaching.monitoring.client_reading import read_client
from roster.people.models import Client, Coach, ViewRecord


@require_safe
@login_required
def client_story(request: HttpRequest, public_id: UUID) -> HttpResponse:
    client = _get_client_or_404(request, public_id)
    when, reach = read_when(request), chosen(request, "reach", Reach.QUARTER)
    # A live story stands at the client's own today, which may be another day than the coach's.
    day = when.asked or client.today(timezone.now())
    facts = read_client(client, as_of=when.asked, since=first_monday(reach, day))
    context = {
        "aside": read_aside(client, day),
        "can_change": not when.is_past and request.user.role != Coach.Role.ASSISTANT,
        "charts": build_charts(client, facts, span_of(facts, reach, day), day, with_over="over" in request.GET),
        "client": client,
        "day": day,
        "facts": facts,
        "here": request.get_full_path(),
        "reach": reach,
        "reaches": list(Reach),
        "story": build_story(client, facts, day=day, log_page=request.GET.get("log")),
        "when": when,
    }
    ViewRecord.objects.add_looks(request.user, [client], "client story")
    return render(request, "desk/story.html", context)


def _get_client_or_404(request: HttpRequest, public_id: UUID) -> Client:
    visible = Client.objects.visible_to(request.user).select_related("studio", "lead", "covering")
    return get_object_or_404(visible, public_id=public_id)
