"""The pages of the desk on the embedded database, with a short history and with a long one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from analytics.training_weeks import to_day
from roster.people.models import Client, Coach
from tests.bench.filling import fill_studio
from tests.bench.report import Line
from tests.bench.sizes import draw_record
from tests.bench.timing import time_in_turns

FEW_WEEKS, MANY_WEEKS = 12, 104
VIEWS_OF_A_PAGE = 30


@dataclass(frozen=True)
class Desk:
    """Two studios of the same size, one with a short history and one with a long one."""

    short: dict[str, Coach]
    long: dict[str, Coach]
    sizes: list[int]


def today() -> int:
    return to_day(timezone.now().date())


def furnish(sizes: list[int]) -> Desk:
    """Of the clients of each studio, the owner sees all, and coaches see as many as their name says."""
    *fewer, all_clients = sizes
    leads = {str(size): size - before for before, size in zip([0, *fewer], fewer, strict=False)}
    coaches = [
        fill_studio(f"{weeks} weeks", draw_record(all_clients, weeks, as_of=today()), leads)
        for weeks in (FEW_WEEKS, MANY_WEEKS)
    ]
    for of_studio in coaches:
        _let_them_share(of_studio, fewer)
        of_studio[str(all_clients)] = of_studio["owner"]
    return Desk(*coaches, sizes)


def _let_them_share(coaches: dict[str, Coach], sizes: list[int]) -> None:
    """A coach of 300 shares the 30 whom another leads."""
    for smaller, larger in zip(sizes, sizes[1:], strict=False):
        for client in Client.objects.visible_to(coaches[str(smaller)]):
            client.shared_with.add(coaches[str(larger)])


def time_pages(desk: Desk) -> Iterator[Line]:
    for size in desk.sizes:
        pages = {
            weeks: _pages_of(coaches[str(size)])
            for weeks, coaches in ((FEW_WEEKS, desk.short), (MANY_WEEKS, desk.long))
        }
        for page in pages[FEW_WEEKS]:
            times = time_in_turns({str(weeks): pages[weeks][page] for weeks in pages}, VIEWS_OF_A_PAGE)
            short, long = times[str(FEW_WEEKS)], times[str(MANY_WEEKS)]
            work = f"{page}, {size} clients"
            most_ms = {"Morning list": 50, "Turnout board": 100, "Client story": 100}[page] if size == 300 else None
            goal = f"< {most_ms} ms" if most_ms else ""
            kilobytes = {weeks: pages[weeks][page]() // 1000 for weeks in pages}
            yield Line(work, f"{FEW_WEEKS} weeks, {kilobytes[FEW_WEEKS]} kB", short)
            yield Line(work, f"{MANY_WEEKS} weeks, {kilobytes[MANY_WEEKS]} kB", long, None, goal, most_ms)
            yield Line(work, "long beside short", long, short, "<= 1.2", 1.2)


def _pages_of(coach: Coach) -> dict:
    browser = Browser(SERVER_NAME="127.0.0.1")
    browser.force_login(coach)
    seen = list(Client.objects.visible_to(coach).order_by("pk"))
    story = reverse("client_story", args=[seen[len(seen) // 2].public_id])
    addresses = {"Morning list": reverse("morning"), "Turnout board": reverse("turnout"), "Client story": story}
    return {page: lambda address=address: _look(browser, address) for page, address in addresses.items()}


def _look(browser: Browser, address: str) -> int:
    """How many bytes the page has."""
    response = browser.get(address)
    if response.status_code != 200:
        raise RuntimeError(f"{address} answers {response.status_code}")
    return len(response.content)
