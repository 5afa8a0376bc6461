from __future__ import annotations

from collections.abc import Sequence

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import SafeString
from django.views.decorators.http import require_safe

from analytics.iso_weeks import monday_of
from coaching.desk.as_of import When, read_when
from coaching.desk.beside import read_beside, read_extras
from coaching.desk.board import BoardRow, Show, Sort, build_rows, count_rows, sort_rows
from coaching.desk.board_cells import cells_of
from coaching.desk.choices import chosen
from coaching.desk.roster import ALL, people_of, persons
from coaching.monitoring import reading
from coaching.monitoring.reading import RosterFacts
from coaching.monitoring.turnout_weeks import board_weeks
from roster.people.models import Client, Coach

ROWS_A_PAGE = 300


@require_safe
@login_required
def turnout(request: HttpRequest) -> HttpResponse:
    when = read_when(request)
    show, sort = chosen(request, "show", Show.ACTIVE), chosen(request, "sort", Sort.NEED)
    people = people_of(request.user, request.GET.get("whose", ""))
    clients = people if show is Show.ENDED else people.not_ended()
    facts = reading.read_roster(clients, as_of=when.asked, with_evidence=False)
    rows = _rows(clients, facts, request.user, when)
    counts = count_rows(rows) | {Show.ENDED: people.filter(state=Client.State.ENDED).count()}
    shown = sort_rows((row for row in rows if row.belongs_to(show)), sort)
    page = Paginator(shown, ROWS_A_PAGE).get_page(request.GET.get("page"))
    context = {
        "all_weeks": request.GET.get("span") == ALL,
        "can_see_all": request.user.role == Coach.Role.OWNER,
        "choices": [{"show": one, "label": one.label, "count": counts[one]} for one in Show],
        "lines": _lines(page.object_list, facts, when),
        "page": page,
        "show": show,
        "sort": sort,
        "sorts": list(Sort),
        "sees_all": request.GET.get("whose") == ALL,
        "turning": facts.turning,
        "weeks": board_weeks(when.day),
        "when": when,
    }
    return render(request, "desk/turnout.html", context)


def _rows(clients: QuerySet[Client], facts: RosterFacts, coach: Coach, when: When) -> list[BoardRow]:
    beside = read_beside(clients, coach, when.day)
    this_week = facts.read_outcomes(clients, monday_of(when.day))
    return build_rows(persons(clients), facts, beside, this_week, day=when.day)


def _lines(rows: Sequence[BoardRow], facts: RosterFacts, when: When) -> list[tuple[BoardRow, list[SafeString]]]:
    """The rows of one page, each with its weeks."""
    ids, weeks = [row.client.pk for row in rows], board_weeks(when.day)
    extras = read_extras(ids, since=weeks[0], as_of=when.asked)
    marks = facts.read_marks(ids, since=weeks[0], until=weeks[-1])
    cells = {pk: cells_of(of_client, extras.get(pk, ()), weeks) for pk, of_client in marks}
    return [(row, cells.get(pk) or cells_of((), extras.get(pk, ()), weeks)) for row, pk in zip(rows, ids, strict=True)]
