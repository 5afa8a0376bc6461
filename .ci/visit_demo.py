"""Goes through a demo that is being served, as its coach would in the morning, and says what it saw.

visit_demo.py ADDRESS EMAIL PASSWORD
"""

from __future__ import annotations

import json
import re
import sys
from http.cookiejar import CookieJar
from urllib.error import HTTPError
from urllib.parse import urlencode, urljoin
from urllib.request import HTTPCookieProcessor, build_opener

from bs4 import BeautifulSoup, Tag

FEWEST_CLIENTS = 36
BOARD_WEEKS = 12
STORY = re.compile(r"^/clients/[0-9a-f-]{36}/")


class Visit:
    """A browser's memory, and the demo's address."""

    def __init__(self, address: str) -> None:
        self.address = address
        self.browser = build_opener(HTTPCookieProcessor(CookieJar()))

    def open(self, path: str, form: dict[str, str] | None = None) -> tuple[str, str]:
        """Where one ends, and the page there; anything but 200 fails."""
        body = None if form is None else urlencode(form).encode()
        with self.browser.open(urljoin(self.address, path), body, timeout=30) as answer:
            check(answer.status == 200, f"{path} ends with {answer.status}")
            check("default-src 'none'" in answer.headers["Content-Security-Policy"], f"{path} has a strict policy")
            return answer.url, answer.read().decode()

    def page(self, path: str) -> BeautifulSoup:
        return BeautifulSoup(self.open(path)[1], "html.parser")


def check(holds: bool, what: str) -> None:
    if not holds:
        sys.exit(f"not so: {what}")


def number_in(tag: Tag | None) -> int:
    check(tag is not None, "a count is shown")
    return int(re.sub(r"\D", "", tag.get_text()))


def sign_in(visit: Visit, email: str, password: str) -> None:
    where, page = visit.open("/")
    check("/sign-in/" in where, "a visitor is led to the door")
    token = BeautifulSoup(page, "html.parser").select_one("main [name=csrfmiddlewaretoken]")["value"]
    form = {"csrfmiddlewaretoken": token, "login": email, "password": password, "next": "/"}
    check(visit.open(where, form)[0] == urljoin(visit.address, "/"), "who signs in is led to the Morning list")


def look_at_morning(visit: Visit) -> str:
    """Every pile with as many people as it says, each with a sentence; answers the first one's story."""
    page = visit.page("/?whose=all")
    piles = page.select("nav[aria-label=Piles] a")
    check({"Ring", "Look at the plan"} <= {pile.get_text().rsplit(" ", 1)[0] for pile in piles}, "both piles are there")
    for pile in piles:
        rows = page.select(f"{pile['href']} > ul.rows > li")
        people = {link["href"] for row in rows for link in row.select("h3 a")}
        check(len(people) == number_in(pile.select_one("b")) > 0, f"{pile.get_text()} are listed")
        check(all(len(row.select_one(".sentence").get_text()) > 15 for row in rows), "every row has its sentence")
        check(all(row.select("details .finding table, details .finding .rule") for row in rows), "and its evidence")
    everybody = {link["href"] for link in page.select("main a") if STORY.match(link["href"])}
    check(len(everybody) >= FEWEST_CLIENTS, "every client is somewhere on the list")
    counts = ", ".join(" ".join(pile.get_text().split()) for pile in piles)
    print(f"Morning list of {len(everybody)} clients: {counts}")
    return page.select_one("#ring h3 a")["href"]


def look_at_board(visit: Visit) -> None:
    page = visit.page("/turnout/?whose=all")
    rows = page.select("table.board tbody tr")
    active = number_in(page.select_one("nav[aria-label='Which clients'] [aria-current] b"))
    check(len(rows) == active >= FEWEST_CLIENTS, "a row for each active client")
    check(len(page.select("table.board thead [data-week]")) == BOARD_WEEKS, "a column for each of 12 weeks")
    marks = [mark["aria-label"] for mark in page.select("table.board tbody [aria-label]")]
    check(any("done" in mark for mark in marks) and any("missed" in mark for mark in marks), "marks say what happened")
    print(f"Turnout board: {len(rows)} rows, {len(marks)} cells with marks")


def look_at_story(visit: Visit, address: str) -> None:
    page = visit.page(address)
    figures = json.loads(page.select_one("script[type='application/json']").get_text())
    boxes = page.select("figure")
    stairs = [name for name in figures if name.startswith("staircase")]
    check(len(stairs) >= 3 and {"tonnage", "density"} <= figures.keys(), "staircases, tonnage and density are drawn")
    check(all(box.select("table tbody tr") for box in boxes) and len(boxes) == len(figures), "each with its table")
    check(len(page.select("#log li")) > 5, "the log is there")
    check(len(page.select(".finding")) > 0, "so is the finding")
    print(f"Client story: {len(boxes)} figures, {len(stairs)} of them staircases")
    look_at_files(visit, page)


def look_at_files(visit: Visit, page: BeautifulSoup) -> None:
    wanted = [tag.get("src") or tag["href"] for tag in page.select("script[src], link[href]")]
    check(all(path.startswith("/static/") for path in wanted), "nothing comes from elsewhere")
    for path in wanted:
        visit.browser.open(urljoin(visit.address, path), timeout=30).close()
    print(f"Files: {len(wanted)}, all from here")


def look_for_nobody(visit: Visit) -> None:
    try:
        visit.open("/clients/00000000-0000-4000-8000-000000000000/")
    except HTTPError as error:
        check(error.code == 404, "nobody is not here")
    else:
        check(False, "nobody is not here")


def main(address: str, email: str, password: str) -> None:
    visit = Visit(address)
    sign_in(visit, email, password)
    story = look_at_morning(visit)
    look_at_board(visit)
    look_at_story(visit, story)
    look_for_nobody(visit)


if __name__ == "__main__":
    main(*sys.argv[1:])
