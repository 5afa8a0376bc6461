from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.core.paginator import Page, Paginator
from django.db.models import Count, QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from coaching.desk.as_of import When, read_when
from coaching.desk.client_lines import StateChoice, build_lines, state_choices
from coaching.monitoring import reading
from coaching.monitoring.reading import RosterFacts
from roster.labels import order_of_names
from roster.people.models import Client

CLIENTS_A_PAGE = 100
ALL_STATES = "all"
# Beyond this nobody typed it.
WORDS_LENGTH = 100


@require_safe
@login_required
def clients(request: HttpRequest) -> HttpResponse:
    when = read_when(request)
    visible = Client.objects.visible_to(request.user)
    words = request.GET.get("q", "").strip()[:WORDS_LENGTH]
    state = _state_asked(request, words)
    found = visible.matching(words)
    page = _page(request, found if state == ALL_STATES else found.filter(state=state))
    facts = _facts(page, when)
    context = {
        "choices": _choices(found, state),
        "has_clients": bool(words) or visible.exists(),
        "lines": build_lines(page.object_list, facts, when.day),
        "page": page,
        "state": state,
        "turning": facts.turning,
        "when": when,
        "words": words,
    }
    return render(request, "desk/clients.html", context)


def _state_asked(request: HttpRequest, words: str) -> str:
    """A search looks everywhere unless told otherwise; the list begins with the active ones."""
    state = request.GET.get("state", "")
    if state in Client.State.values or state == ALL_STATES:
        return state
    return ALL_STATES if words else Client.State.ACTIVE.value


def _page(request: HttpRequest, found: QuerySet[Client]) -> Page[Client]:
    rows = found.order_by().values_list("pk", "name")
    in_order = sorted(rows, key=lambda row: (order_of_names(row[1]), row[0]))
    page = Paginator([pk for pk, _ in in_order], CLIENTS_A_PAGE).get_page(request.GET.get("page"))
    clients = found.in_bulk(page.object_list)
    page.object_list = [clients[pk] for pk in page.object_list]
    return page


def _choices(found: QuerySet[Client], state: str) -> list[StateChoice]:
    counts = dict(found.order_by().values_list("state").annotate(Count("pk")))
    return state_choices(counts, chosen=state)


def _facts(page: Page[Client], when: When) -> RosterFacts:
    clients = Client.objects.filter(pk__in=[client.pk for client in page.object_list])
    return reading.read_roster(clients, as_of=when.asked, with_evidence=False)
