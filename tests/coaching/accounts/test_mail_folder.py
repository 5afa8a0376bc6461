from __future__ import annotations

from pathlib import Path

from django.core import mail
from django.test import Client as Browser
from pytest_django import Settings

from coaching.accounts.rules import MAIL_STAYS_HERE
from roster.people.models import Coach
from tests.coaching.accounts.door import ask_for_password

SAYS_SO = "This installation sends no mail"


def test_mail_that_stays_here_is_for_its_owner_alone(tmp_path: Path, settings: Settings, vera: Coach) -> None:
    settings.EMAIL_FILE_PATH = str(tmp_path / "mail")
    settings.EMAIL_BACKEND = MAIL_STAYS_HERE

    ask_for_password(Browser(), vera.email)

    folder = tmp_path / "mail"
    (message,) = folder.iterdir()
    assert folder.stat().st_mode & 0o077 == 0
    assert "/password/new/" in message.read_text()


def test_the_page_says_that_mail_stays_here_but_not_where(settings: Settings, db: None) -> None:
    settings.EMAIL_BACKEND = MAIL_STAYS_HERE

    page = Browser().get("/password/forgotten/sent/").content.decode()

    assert SAYS_SO in page
    assert str(settings.HOME_DIR) not in page


def test_where_mail_is_sent_the_page_says_nothing_of_it(db: None) -> None:
    assert mail.outbox == []

    assert SAYS_SO not in Browser().get("/password/forgotten/sent/").content.decode()
