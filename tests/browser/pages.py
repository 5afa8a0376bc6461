"""Every page that a browser can be led to, in each of its states: an address that is not told here fails a test."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from playwright.sync_api import Page

from coaching.demo.cast import COACH
from tests.isolation.routes import api_patterns


@dataclass(frozen=True)
class Shown:
    """A page in one state; `{names}` in its address are those of `places.py`.

    `then` is what leads to it from that address; `is_led_on` says that the address leads to another by itself.
    """

    name: str
    address: str
    who: str | None = "owner"
    status: int = 200
    then: Callable[[Page], None] | None = None
    is_led_on: bool = False


def sign_in_as_coach(page: Page) -> None:
    page.get_by_label("E-mail address").fill(COACH.email)
    page.get_by_label("Password").fill(COACH.password)
    page.get_by_role("button", name="Sign in", exact=True).click()
    page.get_by_role("heading", name="second factor").wait_for()


PAGES: dict[str, tuple[Shown, ...]] = {
    "": (
        Shown("Morning list", "/?whose=all"),
        Shown("Morning list of one's own, somebody new to it", "/", who="outsider"),
        Shown("Morning list, three weeks back", "/?whose=all&as_of=2026-03-25"),
    ),
    "turnout/": (
        Shown("Turnout board", "/turnout/?whose=all"),
        Shown("Turnout board, all weeks", "/turnout/?whose=all&span=all&sort=name"),
        Shown("Turnout board, nobody there", "/turnout/?whose=all&show=paused&as_of=2020-01-01"),
    ),
    "clients/": (
        Shown("Clients", "/clients/"),
        Shown("Clients, nobody found", "/clients/?q=zzz"),
    ),
    "clients/<uuid:public_id>/": (
        Shown("Client story, stalled", "/clients/{stalled}/"),
        Shown("Client story, in pain", "/clients/{hurt}/?reach=all"),
        Shown("Client story, three weeks back", "/clients/{stalled}/?as_of=2026-03-25"),
        Shown("Client story, of somebody who left", "/clients/{ended}/"),
    ),
    "clients/<uuid:public_id>/pack/": (
        Shown("Check-in pack", "/clients/{stalled}/pack/"),
        Shown("Check-in pack, theirs", "/clients/{stalled}/pack/?paper=theirs"),
        Shown("Check-in pack, kept", "/clients/{kept_pack}/pack/"),
        Shown("Check-in pack, edited", "/clients/{stalled}/pack/?edit=1"),
        Shown("Check-in pack, nothing to tell", "/clients/{stalled}/pack/?from=2020-01-01&to=2020-01-31"),
    ),
    "check-ins/": (
        Shown("Check-ins", "/check-ins/?whose=all"),
        Shown("Check-ins, where there are none", "/check-ins/", who="outsider"),
    ),
    "clients/<uuid:public_id>/check-in/": (
        Shown("Check-in of a client", "/clients/{owed_a_call}/check-in/"),
        Shown("Check-in of a client, three weeks back", "/clients/{owed_a_call}/check-in/?as_of=2026-03-25"),
    ),
    "packs/": (Shown("Packs of many", "/packs/"), Shown("Packs of many, none asked for", "/packs/", who="coach")),
    "packs/<uuid:public_id>/": (
        Shown("Batch of packs", "/packs/{batch}/"),
        Shown("Batch of packs, cut off", "/packs/{batch_cut_off}/"),
    ),
    "files/": (Shown("Files", "/files/"), Shown("Files, nothing loaded", "/files/", who="coach")),
    "files/<uuid:file_id>/": (
        Shown("File review, with faults", "/files/{handed_in}/"),
        Shown("File review, all rows", "/files/{handed_in}/?show=all&edit=4"),
    ),
    "loads/<uuid:load_id>/": (Shown("Load", "/loads/{logs_load}/"),),
    "loads/<uuid:load_id>/undo/": (
        Shown("Undo of a load", "/loads/{logs_load}/undo/"),
        Shown("Undo of a load, with logs on it", "/loads/{blocks_load}/undo/"),
    ),
    "sign-in/": (Shown("Sign-in", "/sign-in/", who=None),),
    "sign-in/second-factor/": (Shown("Second factor", "/sign-in/", who=None, then=sign_in_as_coach),),
    "sign-in/closed/": (Shown("Account closed", "/sign-in/closed/", who=None),),
    "password/forgotten/": (Shown("Forgotten password", "/password/forgotten/", who=None),),
    "password/forgotten/sent/": (Shown("Look in your mail", "/password/forgotten/sent/", who=None),),
    "password/new/<base36:uidb36>-<str:key>/": (
        Shown("New password", "/password/new/{new_password}/", who=None, is_led_on=True),
        Shown("New password, too late", "/password/new/1-stale/", who=None),
    ),
    "password/new/done/": (Shown("Password changed", "/password/new/done/", who=None),),
    "account/": (
        Shown("Account, password alone", "/account/"),
        Shown("Account with an app", "/account/", who="coach"),
        Shown("Account with a passkey", "/account/", who="assistant"),
    ),
    "account/password/": (Shown("Change password", "/account/password/"),),
    "account/sessions/": (Shown("Where signed in", "/account/sessions/"),),
    "account/confirm/": (Shown("Is it you, password", "/account/confirm/"),),
    "account/confirm/code/": (Shown("Is it you, code", "/account/confirm/code/", who="coach"),),
    "account/app/add/": (Shown("Add an app", "/account/app/add/"),),
    "account/app/remove/": (Shown("Take the app away", "/account/app/remove/", who="coach"),),
    "account/recovery-codes/": (Shown("Recovery codes", "/account/recovery-codes/", who="coach"),),
    "account/recovery-codes/new/": (Shown("New recovery codes", "/account/recovery-codes/new/", who="coach"),),
    "account/passkeys/add/": (Shown("Add a passkey", "/account/passkeys/add/"),),
    "account/passkeys/<int:pk>/remove/": (
        Shown("Take the passkey away", "/account/passkeys/{passkey}/remove/", who="assistant"),
    ),
    "account/programs/": (Shown("Access for programs", "/account/programs/"),),
    "api/v1/docs/": (Shown("For programs", "/api/v1/docs/"),),
    "failing/400/": (Shown("Not understood", "/failing/400/", status=400),),
    "failing/403/": (Shown("Not allowed", "/failing/403/", status=403),),
    "failing/500/": (Shown("Something broke", "/failing/500/", status=500),),
    "failing/503/": (Shown("Database damaged", "/failing/503/", status=503),),
    "failing/507/": (Shown("Disk full", "/failing/507/", status=507),),
    "nowhere": (
        Shown("Not here", "/nowhere/", status=404),
        Shown("Not here, for a stranger", "/nowhere/", who=None, status=404),
    ),
}

# Addresses that no browser shows as a page, each with what it is instead.
NO_PAGE: dict[str, str] = {
    "packs/add/": "has packs made, and leads on",
    "packs/<uuid:public_id>/progress/": "tells a page how far something has come",
    "packs/<uuid:public_id>/zip/": "gives a ZIP to keep",
    "packs/<uuid:public_id>/go-on/": "has the rest of the packs made, and leads back",
    "packs/<uuid:public_id>/drop/": "puts packs away, and leads back",
    "clients/<uuid:public_id>/pack/as/<str:document>/": "gives a document to keep",
    "clients/<uuid:public_id>/pack/edit/": "keeps a version of a pack, and leads back",
    "clients/<uuid:public_id>/pack/given/": "marks a pack as given, and leads back",
    "clients/<uuid:public_id>/contacts/": "keeps a contact, and leads back",
    "clients/<uuid:public_id>/notes/": "keeps a note, and leads back",
    "clients/<uuid:public_id>/findings/<str:kind>/seen/": "marks a finding, and leads back",
    "clients/<uuid:public_id>/findings/<str:kind>/put-aside/": "puts a finding aside, and leads back",
    "clients/<uuid:public_id>/findings/<str:kind>/close/": "closes a finding, and leads back",
    "clients/<uuid:public_id>/check-in/answers/": "keeps answers, and leads back",
    "clients/<uuid:public_id>/check-in/hold/": "keeps a call, and leads back",
    "clients/<uuid:public_id>/check-in/move/": "moves a call, and leads back",
    "healthz": "a word for a watching program",
    "readyz": "some words for a watching program",
    "metrics": "numbers for a watching program",
    "sign-in/passkey/": "what a script asks when a passkey is used",
    "account/confirm/passkey/": "asks a passkey that a real device holds",
    "account/sessions/end/": "ends sessions, and leads back",
    "files/add/": "puts files by for review, and leads on",
    "files/progress/<uuid:token>/": "tells a page how far something has come",
    "files/<uuid:file_id>/mend/": "mends cells, and leads back",
    "files/<uuid:file_id>/kind/": "reads a file as one of another kind, and leads back",
    "files/<uuid:file_id>/check/": "checks a file anew, and leads back",
    "files/<uuid:file_id>/confirm/": "loads a file, and leads on",
    "files/<uuid:file_id>/drop/": "puts a file away, and leads back",
    "loads/<uuid:load_id>/undo/now/": "undoes a load, and leads back",
    "account/programs/<uuid:public_id>/revoke/": "takes a token away, and leads back",
    "sign-out/": "signs out, and leads to the sign-in page",
    **dict.fromkeys(api_patterns(), "answers programs"),
}


def all_shown() -> list[Shown]:
    return [shown for states in PAGES.values() for shown in states]
