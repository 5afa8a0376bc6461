"""A coach who never stops: one change after the other over HTTP, each written into the ledger before and after."""

from __future__ import annotations

import re
import zlib
from base64 import urlsafe_b64decode
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from http.client import HTTPConnection, HTTPException, HTTPMessage
from http.cookies import SimpleCookie
from random import Random
from threading import Event
from urllib.parse import urlencode
from zoneinfo import ZoneInfo

from tests.crash.ledger import Kind, Ledger

LONGEST_ANSWER_S = 60
NOTHING_CHANGED = "nothing was changed"


@dataclass(frozen=True)
class Finding:
    """A finding that stands, as a form of the desk names it."""

    public_id: str
    kind: str
    subject: str
    urgency: str
    time_zone: str


class Desk:
    """What a browser does: cookies, forms, one connection that is kept; `headers` are those of the last answer."""

    def __init__(self, port: int) -> None:
        self.headers = HTTPMessage()
        self._cookies: dict[str, str] = {}
        self._connection = HTTPConnection("127.0.0.1", port, timeout=LONGEST_ANSWER_S)

    def ask(self, method: str, path: str, form: dict[str, str] | None = None) -> tuple[int, str]:
        """Status and page; OSError or HTTPException if no answer came."""
        self._cookies.pop("messages", None)
        fields = {"csrfmiddlewaretoken": self._cookies.get("csrftoken", "")} | (form or {})
        headers = {
            "Cookie": "; ".join(f"{name}={value}" for name, value in self._cookies.items()),
            "Content-Type": "application/x-www-form-urlencoded",
        }
        try:
            self._connection.request(method, path, urlencode(fields) if form is not None else None, headers)
            answer = self._connection.getresponse()
            page = answer.read().decode()
        except (OSError, HTTPException):
            self.close()
            raise
        for line in answer.headers.get_all("Set-Cookie") or []:
            self._cookies |= {name: cookie.value for name, cookie in SimpleCookie(line).items()}
        self.headers = answer.headers
        return answer.status, page

    def close(self) -> None:
        """The connection alone: it is opened anew when something is asked."""
        self._connection.close()

    def told(self) -> str:
        """What the next page would tell: the framework keeps it in a cookie, signed and packed."""
        packed = self._cookies.get("messages", "").split(":")[0]
        text = urlsafe_b64decode(packed.removeprefix(".") + "==")
        return (zlib.decompress(text) if packed.startswith(".") else text).decode()

    def sign_in(self, email: str, password: str) -> None:
        _, page = self.ask("GET", "/sign-in/")
        names = re.findall(r'<input[^>]*name="(\w+)"', page)
        form = {name: "" for name in names if name != "csrfmiddlewaretoken"}
        form |= {"login": email, "password": password}
        status, page = self.ask("POST", "/sign-in/", form)
        if status != 302:
            raise RuntimeError(f"nobody was let in ({status}): {page[:500]}")


class Coach:
    """`findings` are theirs alone, so that nobody else closes them."""

    def __init__(self, number: int, desk: Desk, clients: list[str], findings: list[Finding], ledger: Ledger) -> None:
        self.number, self.desk, self._clients, self._findings = number, desk, clients, findings
        self._ledger = ledger

    def work(self, stopped: Event, seed: str) -> None:
        dice = Random(f"{seed} {self.number}")
        open_findings = list(self._findings)
        for word in self._words(seed):
            if stopped.is_set():
                return
            kind, path, form = self._change(dice, open_findings, word)
            self._ledger.send(word, kind)
            try:
                status, _ = self.desk.ask("POST", path, form)
            except (OSError, HTTPException):
                # The server is gone: whether this was kept, nobody knows.
                return
            if status == 302 and NOTHING_CHANGED not in self.desk.told():
                self._ledger.acknowledge(word)
            else:
                self._ledger.refuse(word, f"{status} {path.split('/', 3)[3]}")

    def _words(self, seed: str) -> Iterator[str]:
        number = 0
        while True:
            number += 1
            yield f"{seed}.{self.number}.{number}"

    def _change(self, dice: Random, findings: list[Finding], word: str) -> tuple[Kind, str, dict[str, str]]:
        client = dice.choice(self._clients)
        what = dice.choice(("note", "contact", "seen", "put-aside", "close") if findings else ("note", "contact"))
        if what == "note":
            return Kind.NOTE, f"/clients/{client}/notes/", {"text": word}
        if what == "contact":
            return Kind.CONTACT, f"/clients/{client}/contacts/", {"how": "call", "text": word}
        finding = dice.choice(findings)
        if what == "close":
            findings.remove(finding)
        # Pain may wait until the client's own tomorrow and no longer.
        tomorrow = str(datetime.now(ZoneInfo(finding.time_zone)).date() + timedelta(days=1))
        form = {"how": "call", "text": word, "subject": finding.subject, "urgency": finding.urgency, "until": tomorrow}
        return Kind.ACT, f"/clients/{finding.public_id}/findings/{finding.kind}/{what}/", form
