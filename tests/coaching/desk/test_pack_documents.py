from __future__ import annotations

from io import BytesIO

import pytest
from openpyxl import load_workbook

from coaching.check_ins.content import Part
from roster.people.models import Client, Coach, ViewRecord
from tests.coaching.check_ins.packs import a_pack
from tests.coaching.desk.packs import kept
from tests.coaching.desk.pages import BrowserOf, read_page, words
from tests.coaching.desk.test_pack_page import OF_MARCH, address

pytestmark = pytest.mark.usefixtures("wednesday")


def document_of(client: Client, name: str, more: str = "") -> str:
    return f"/clients/{client.public_id}/pack/as/{name}/{OF_MARCH}{more}"


@pytest.mark.parametrize(
    ("name", "begins", "content_type"),
    [
        ("pdf", b"%PDF-", "application/pdf"),
        ("xlsx", b"PK", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"),
        ("csv", b"", "text/csv; charset=utf-8"),
    ],
)
def test_a_document_is_taken_along_and_stays_in_no_cache(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf, name: str, begins: bytes, content_type: str
) -> None:
    kept(client_of_coach, coach)

    answer = browser_of(coach).get(document_of(client_of_coach, name))

    assert answer.status_code == 200
    assert answer.content.startswith(begins)
    assert answer.headers["Content-Type"] == content_type
    assert answer.headers["Cache-Control"] == "no-store"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    disposition = answer.headers["Content-Disposition"]
    assert disposition.startswith('attachment; filename="ilse-brandt-')
    assert disposition.endswith(f'-mine.{name}"')


def test_a_name_that_would_break_out_of_the_header_does_not(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    kept(client_of_coach, coach, a_pack(client_name='x"; filename="../evil.exe\r\nSet-Cookie: a=b'))

    disposition = browser_of(coach).get(document_of(client_of_coach, "csv")).headers["Content-Disposition"]

    assert disposition.count('"') == 2
    assert "\r" not in disposition
    assert "/" not in disposition


def test_what_was_edited_stands_in_the_documents(client_of_coach: Client, coach: Coach, browser_of: BrowserOf) -> None:
    kept(client_of_coach, coach)
    kept(client_of_coach, coach, remarks={Part.SENTENCES: "Two weeks with the flu."})
    browser = browser_of(coach)

    def texts(more: str) -> str:
        book = load_workbook(BytesIO(browser.get(document_of(client_of_coach, "xlsx", more)).content))
        return str([cell for sheet in book for row in sheet.iter_rows(values_only=True) for cell in row])

    assert "Two weeks with the flu." in texts("")
    assert "Two weeks with the flu." not in texts("&version=1")


def test_letter_is_another_paper_than_a4(client_of_coach: Client, coach: Coach, browser_of: BrowserOf) -> None:
    kept(client_of_coach, coach)
    browser = browser_of(coach)

    addresses = [document_of(client_of_coach, "pdf", f"&size={size}") for size in ("a4", "letter")]
    a4, letter = (browser.get(address).content for address in addresses)

    assert (a4[:5], letter[:5]) == (b"%PDF-", b"%PDF-")
    assert a4 != letter


@pytest.mark.parametrize(("name", "more"), [("exe", ""), ("pdf", "&size=a0"), ("pdf", "&version=7")])
def test_what_there_is_not_is_not_here(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf, name: str, more: str
) -> None:
    kept(client_of_coach, coach)

    assert browser_of(coach).get(document_of(client_of_coach, name, more)).status_code == 404


def test_where_there_is_nothing_to_tell_a_document_leads_to_the_page_that_says_why(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    answer = browser_of(coach).get(document_of(client_of_coach, "pdf"), follow=True)

    assert answer.redirect_chain[-1][0] == address(client_of_coach)
    assert "Nothing was planned or logged" in answer.content.decode()


def test_the_page_offers_the_documents_of_each_paper(
    client_of_coach: Client, coach: Coach, browser_of: BrowserOf
) -> None:
    kept(client_of_coach, coach)
    browser = browser_of(coach)

    def offered(paper: str) -> list[str]:
        page = read_page(browser, address(client_of_coach, f"{OF_MARCH}&paper={paper}"))
        links = page.select(".takes a[href*='/as/']")
        assert all(browser.get(str(link["href"])).status_code == 200 for link in links)
        return [words(link) for link in links]

    assert offered("mine") == ["PDF, A4", "PDF, Letter", "XLSX", "CSV"]
    assert offered("theirs") == ["PDF, A4", "PDF, Letter"]


def test_that_somebody_else_than_the_lead_took_it_is_recorded(
    client_of_coach: Client, coach: Coach, owner: Coach, browser_of: BrowserOf
) -> None:
    kept(client_of_coach, coach)

    browser_of(owner).get(document_of(client_of_coach, "csv"))

    assert ViewRecord.objects.get().coach == owner
