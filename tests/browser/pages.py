"""Every page that a browser can be led to, in each of its states: an address that is not told here fails a test."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Shown:
    """A page in one state; `{names}` in its address are those of `places.py`."""

    name: str
    address: str
    who: str | None = "owner"
    status: int = 200


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
    "sign-in/": (Shown("Sign-in", "/sign-in/", who=None),),
    "failing/400/": (Shown("Not understood", "/failing/400/", status=400),),
    "failing/403/": (Shown("Not allowed", "/failing/403/", status=403),),
    "failing/500/": (Shown("Something broke", "/failing/500/", status=500),),
    "nowhere": (
        Shown("Not here", "/nowhere/", status=404),
        Shown("Not here, for a stranger", "/nowhere/", who=None, status=404),
    ),
}

# Addresses that no browser shows as a page, each with what it is instead.
NO_PAGE: dict[str, str] = {
    "clients/<uuid:public_id>/contacts/": "keeps a contact, and leads back",
    "clients/<uuid:public_id>/notes/": "keeps a note, and leads back",
    "clients/<uuid:public_id>/findings/<str:kind>/seen/": "marks a finding, and leads back",
    "clients/<uuid:public_id>/findings/<str:kind>/put-aside/": "puts a finding aside, and leads back",
    "clients/<uuid:public_id>/findings/<str:kind>/close/": "closes a finding, and leads back",
    "sign-out/": "signs out, and leads to the sign-in page",
}


def all_shown() -> list[Shown]:
    return [shown for states in PAGES.values() for shown in states]
