"""The Client story: what is up with one client, how this week goes, what they sent."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from django.core.paginator import Page, Paginator
from django.utils.safestring import SafeString

from coaching.desk.findings import findings_of, part_put_aside
from coaching.desk.live_exercises import count_live_exercises
from coaching.desk.pace import minutes_remark, rest_remark
from coaching.desk.rows import Row
from coaching.desk.story_log import LOGS_A_PAGE, LogEntry, build_entries, months_of
from coaching.desk.story_week import ThisWeek, build_week, strip_of
from coaching.monitoring.client_reading import ClientFacts
from coaching.monitoring.models import Flag, LogFact, Status
from coaching.monitoring.plain_words import day_text
from roster.blocks.models import Exercise
from roster.people.models import Client


@dataclass(frozen=True)
class Story:
    findings: list[Row]
    put_aside: list[Row]
    strip: SafeString
    week: ThisWeek
    # What there is to say while there is nothing to show yet; empty afterwards.
    beginning: str
    pace: list[str]
    log_page: Page[LogFact]
    log_months: list[tuple[date, list[LogEntry]]]


def build_story(client: Client, facts: ClientFacts, *, day: date, log_page: str | None) -> Story:
    page = Paginator(facts.all_logs, LOGS_A_PAGE).get_page(log_page)
    live = count_live_exercises([client.pk], day).get(client.pk, 0)
    aside, here = part_put_aside(facts.flags, day)
    pace = (minutes_remark(facts.logs, day, client.minutes), rest_remark(facts.logs, facts.exposures, day))
    return Story(
        findings=_rows(client, here, live, day),
        put_aside=_rows(client, aside, live, day),
        strip=strip_of(facts, day),
        week=build_week(client, facts, _exercise_names(facts), day),
        beginning=_beginning(facts, day),
        pace=[remark for remark in pace if remark],
        log_page=page,
        log_months=months_of(build_entries(page.object_list, client.unit)),
    )


def _rows(client: Client, flags: Iterable[Flag], live_exercises: int, day: date) -> list[Row]:
    """A row for each finding, as the Morning list's pieces want them."""
    tomorrow = (day + timedelta(days=1)).isoformat()
    return [
        Row(client, [finding], [finding.remark] if finding.remark else [], tomorrow)
        for finding in findings_of(flags, live_exercises)
    ]


def _exercise_names(facts: ClientFacts) -> dict[int, str]:
    met = {exposure.exercise_id for exposure in facts.exposures}
    return dict(Exercise.objects.filter(pk__in=met).values_list("pk", "name"))


def _beginning(facts: ClientFacts, day: date) -> str:
    """Where a client stands who has not sent anything."""
    if facts.logs:
        return ""
    if not facts.sessions:
        return "No block yet, so nothing is asked and nothing is due."
    first = facts.sessions[0].planned_session
    suggested = day_text(first.suggested_on)
    if first.suggested_on > day:
        return f"{first.block.label} starts with a session on {suggested}; nothing is due before."
    if all(session.status in (Status.NOT_DUE, Status.TO_COME) for session in facts.sessions):
        return f"No log yet. Nothing has come due since {suggested}."
    return f"No log yet. The first session was suggested for {suggested}."
