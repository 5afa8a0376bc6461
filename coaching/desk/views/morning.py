from __future__ import annotations

from datetime import date, datetime

from django.contrib.auth.decorators import login_required
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.safestring import SafeString
from django.views.decorators.http import require_safe

from coaching.desk.as_of import When, read_when
from coaching.desk.days import last_week
from coaching.desk.findings import with_several_exercises
from coaching.desk.last_words import read_last_words
from coaching.desk.live_exercises import count_live_exercises
from coaching.desk.marks import quiet_strip
from coaching.desk.morning import ROWS_AT_FIRST, MorningList, build_morning, strip_since
from coaching.desk.news import news_since
from coaching.desk.roster import ALL, persons, roster_of
from coaching.desk.visits import keep_visit, last_visit
from coaching.monitoring import reading
from coaching.monitoring.reading import RosterFacts
from roster.people.models import Client, Coach


@require_safe
@login_required
def morning(request: HttpRequest) -> HttpResponse:
    now, coach = timezone.now(), request.user
    when = read_when(request)
    is_live, whose_all = not when.is_past, request.GET.get("whose") == ALL
    facts = reading.read_roster(_clients(request), as_of=when.asked, with_evidence=False, now=now)
    listed = _read_morning(request, when, facts, now)
    reading.add_evidence(flag for row in listed.shown for finding in row.findings for flag in finding.flags)
    context = {
        "can_change": is_live and coach.role != Coach.Role.ASSISTANT,
        "has_clients": listed.size > 0 or Client.objects.visible_to(coach).exists(),
        "has_others": whose_all or (coach.role == Coach.Role.OWNER and roster_of(coach, ALL).count() > listed.size),
        "here": request.get_full_path(),
        "list": listed,
        "strips": _read_strips(listed, facts, when.day),
        "turning": facts.turning,
        "when": when,
        "whose_all": whose_all,
    }
    response = render(request, "desk/morning.html", context)
    if is_live:
        keep_visit(request, response, now)
    return response


def _read_morning(request: HttpRequest, when: When, facts: RosterFacts, now: datetime) -> MorningList:
    clients, day = _clients(request), when.day
    return build_morning(
        persons(clients),
        facts,
        day=day,
        last_week=facts.read_outcomes(clients, last_week(day)),
        words=read_last_words(clients, request.user, day),
        live_exercises=count_live_exercises(with_several_exercises(facts.flags), day),
        news=frozenset() if when.is_past else news_since(clients, last_visit(request, now)),
        at_most=None if request.GET.get("rows") == ALL else ROWS_AT_FIRST,
    )


def _read_strips(listed: MorningList, facts: RosterFacts, day: date) -> dict[int, SafeString]:
    marks = facts.read_marks([row.client.pk for row in listed.shown], since=strip_since(day), until=day)
    return {pk: quiet_strip(of_client) for pk, of_client in marks}


def _clients(request: HttpRequest) -> QuerySet[Client]:
    return roster_of(request.user, request.GET.get("whose", ""))
