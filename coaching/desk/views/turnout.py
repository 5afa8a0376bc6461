from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import SafeString
from django.views.decorators.http import require_GET

from coaching.desk.as_of import When, read_when
from coaching.desk.beside import read_beside
from coaching.desk.board import BoardRow, Show, Sort, board_weeks, build_rows, count_rows, sort_rows
from coaching.desk.board_row import row_html
from coaching.desk.choices import chosen
from coaching.desk.kept_cells import KeptCells
from coaching.desk.roster import ALL, people_of
from coaching.monitoring import reading
from roster.people.models import Client, Coach

ROWS_A_PAGE = 300
# What a row shows of the client's own record.
ROW_FIELDS = ("joined_on", "name", "public_id", "state")


@require_GET
@login_required
def turnout(request: HttpRequest) -> HttpResponse:
    when = read_when(request)
    show, sort = chosen(request, "show", Show.ACTIVE), chosen(request, "sort", Sort.NEED)
    people = people_of(request.user, request.GET.get("whose", ""))
    rows = _rows(people if show is Show.ENDED else people.not_ended(), request.user, when)
    counts = count_rows(rows) | {Show.ENDED: people.filter(state=Client.State.ENDED).count()}
    shown = sort_rows((row for row in rows if row.belongs_to(show)), sort)
    page = Paginator(shown, ROWS_A_PAGE).get_page(request.GET.get("page"))
    context = {
        "all_weeks": request.GET.get("span") == ALL,
        "can_see_all": request.user.role == Coach.Role.OWNER,
        "choices": [{"show": one, "label": one.label, "count": counts[one]} for one in Show],
        "lines": SafeString("".join(row_html(row, when.day, when.query) for row in page.object_list)),
        "page": page,
        "show": show,
        "sort": sort,
        "sorts": list(Sort),
        "sees_all": request.GET.get("whose") == ALL,
        "weeks": board_weeks(when.day),
        "when": when,
    }
    return render(request, "desk/turnout.html", context)


def _rows(clients: QuerySet[Client], coach: Coach, when: When) -> list[BoardRow]:
    weeks = board_weeks(when.day)
    kept = KeptCells(this_week=weeks[-1])
    facts = reading.read_roster(clients, as_of=when.asked, since=weeks[0], until=weeks[-1], is_at_hand=kept.find)
    beside = read_beside(clients, coach, day=when.day, since=weeks[0], as_of=when.asked)
    return build_rows(clients.only(*ROW_FIELDS), facts, beside, kept, day=when.day)
