"""Every address that this installation answers to, and what each is: a route that is not told here fails a test."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from uuid import UUID

from django.contrib import admin
from django.db.models import Model
from django.urls import URLPattern, URLResolver, get_resolver

# The id of nothing.
NOBODY = UUID("00000000-0000-4000-8000-000000000000")
# What stands in addresses beside a client's id.
BESIDE_A_CLIENT: dict[str, object] = {
    "kind": "stall", "document": "csv", "uidb36": "1", "key": "x-y", "pk": 1,
    **dict.fromkeys(("file_id", "load_id", "token"), NOBODY),
}  # fmt: skip


class Reach(Enum):
    """What a desk's route leads to, and so who may follow it."""

    DOOR = "signing in and out: everybody"
    MACHINE = "for what runs the desk, with nobody's data: whoever asks"
    ACCOUNT = "one's own account: whoever is signed in"
    ROSTER = "pages over all clients that one may see"
    READ = "a page of one client: whoever may see them"
    CHANGE = "a change to one client: whoever may change them"
    FILES = "files, loads, packs of many: owners and coaches, each their own, owners those of the studio"


class ApiReach(Enum):
    """What an operation of the interface for programs leads to."""

    DESCRIPTION = "what there is: whoever is signed in"
    LIST = "rows of clients that one may see"
    ONE = "one row of one client: whoever may see them"
    ACT = "an act on a finding of one client: whoever may change them"
    STUDIO_LIST = "rows of the studio"
    STUDIO_ONE = "one row of the studio: its coaches"


@dataclass(frozen=True)
class Route:
    pattern: str

    @property
    def is_admin(self) -> bool:
        return self.pattern.startswith("admin/")

    def address(self, values: Mapping[str, object]) -> str:
        return "/" + re.sub(r"<(?:\w+:)?(\w+)>", lambda match: str(values[match[1]]), self.pattern)


DESK: dict[str, Reach] = {
    "": Reach.ROSTER,
    "turnout/": Reach.ROSTER,
    "clients/": Reach.ROSTER,
    "clients/<uuid:public_id>/": Reach.READ,
    "clients/<uuid:public_id>/pack/": Reach.READ,
    "clients/<uuid:public_id>/pack/as/<str:document>/": Reach.READ,
    "clients/<uuid:public_id>/pack/edit/": Reach.CHANGE,
    "clients/<uuid:public_id>/pack/given/": Reach.CHANGE,
    "packs/": Reach.FILES,
    "packs/add/": Reach.FILES,
    "packs/<uuid:public_id>/": Reach.FILES,
    "packs/<uuid:public_id>/progress/": Reach.FILES,
    "packs/<uuid:public_id>/zip/": Reach.FILES,
    "packs/<uuid:public_id>/go-on/": Reach.FILES,
    "packs/<uuid:public_id>/drop/": Reach.FILES,
    "clients/<uuid:public_id>/contacts/": Reach.CHANGE,
    "clients/<uuid:public_id>/notes/": Reach.CHANGE,
    "clients/<uuid:public_id>/findings/<str:kind>/seen/": Reach.CHANGE,
    "clients/<uuid:public_id>/findings/<str:kind>/put-aside/": Reach.CHANGE,
    "clients/<uuid:public_id>/findings/<str:kind>/close/": Reach.CHANGE,
    "check-ins/": Reach.ROSTER,
    "clients/<uuid:public_id>/check-in/": Reach.READ,
    "clients/<uuid:public_id>/check-in/answers/": Reach.CHANGE,
    "clients/<uuid:public_id>/check-in/hold/": Reach.CHANGE,
    "clients/<uuid:public_id>/check-in/move/": Reach.CHANGE,
    "healthz": Reach.MACHINE,
    "readyz": Reach.MACHINE,
    "metrics": Reach.MACHINE,
    "files/": Reach.FILES,
    "files/add/": Reach.FILES,
    "files/progress/<uuid:token>/": Reach.FILES,
    "files/<uuid:file_id>/": Reach.FILES,
    "files/<uuid:file_id>/mend/": Reach.FILES,
    "files/<uuid:file_id>/kind/": Reach.FILES,
    "files/<uuid:file_id>/check/": Reach.FILES,
    "files/<uuid:file_id>/confirm/": Reach.FILES,
    "files/<uuid:file_id>/drop/": Reach.FILES,
    "loads/<uuid:load_id>/": Reach.FILES,
    "loads/<uuid:load_id>/undo/": Reach.FILES,
    "loads/<uuid:load_id>/undo/now/": Reach.FILES,
    "sign-in/": Reach.DOOR,
    "sign-in/second-factor/": Reach.DOOR,
    "sign-in/passkey/": Reach.DOOR,
    "sign-in/closed/": Reach.DOOR,
    "sign-out/": Reach.DOOR,
    "password/forgotten/": Reach.DOOR,
    "password/forgotten/sent/": Reach.DOOR,
    "password/new/<base36:uidb36>-<str:key>/": Reach.DOOR,
    "password/new/done/": Reach.DOOR,
    "account/": Reach.ACCOUNT,
    "account/password/": Reach.ACCOUNT,
    "account/sessions/": Reach.ACCOUNT,
    "account/sessions/end/": Reach.ACCOUNT,
    "account/confirm/": Reach.ACCOUNT,
    "account/confirm/code/": Reach.ACCOUNT,
    "account/confirm/passkey/": Reach.ACCOUNT,
    "account/app/add/": Reach.ACCOUNT,
    "account/app/remove/": Reach.ACCOUNT,
    "account/recovery-codes/": Reach.ACCOUNT,
    "account/recovery-codes/new/": Reach.ACCOUNT,
    "account/passkeys/add/": Reach.ACCOUNT,
    "account/passkeys/<int:pk>/remove/": Reach.ACCOUNT,
    "account/programs/": Reach.ACCOUNT,
    "account/programs/<uuid:public_id>/revoke/": Reach.ACCOUNT,
    "api/v1/docs/": Reach.ACCOUNT,
}

# The interface for programs, without "api/v1/" before it.
API: dict[str, ApiReach] = {
    "": ApiReach.DESCRIPTION,
    "schema/": ApiReach.DESCRIPTION,
    "clients/": ApiReach.LIST,
    "clients/<uuid:public_id>/": ApiReach.ONE,
    "exercises/": ApiReach.STUDIO_LIST,
    "exercises/<uuid:public_id>/": ApiReach.STUDIO_ONE,
    "blocks/": ApiReach.LIST,
    "blocks/<uuid:public_id>/": ApiReach.ONE,
    "planned-sessions/": ApiReach.LIST,
    "planned-sessions/<uuid:public_id>/": ApiReach.ONE,
    "session-logs/": ApiReach.LIST,
    "session-logs/<uuid:public_id>/": ApiReach.ONE,
    "weeks/": ApiReach.LIST,
    "exposures/": ApiReach.LIST,
    "flags/": ApiReach.LIST,
    "flags/<uuid:public_id>/": ApiReach.ONE,
    "flags/<uuid:public_id>/seen/": ApiReach.ACT,
    "flags/<uuid:public_id>/put-aside/": ApiReach.ACT,
    "flags/<uuid:public_id>/close/": ApiReach.ACT,
    "turnout/": ApiReach.LIST,
    "check-in-packs/": ApiReach.LIST,
    "check-in-packs/<uuid:public_id>/": ApiReach.ONE,
}
# Answers 404 to everybody.
API_ELSEWHERE = {"api/", "api/<path:rest>"}

# Of the framework's own side door; the rest of it is five addresses a table.
ADMIN_ONCE = {
    "admin/", "admin/login/", "admin/logout/", "admin/password_change/", "admin/password_change/done/",
    "admin/autocomplete/", "admin/jsi18n/", "admin/r/<path:content_type_id>/<path:object_id>/",
    "admin/^(?P<app_label>auth|people|blocks|logs)/$", "admin/(?P<url>.*)$",
}  # fmt: skip
OF_A_TABLE = ("", "add/")
OF_A_ROW = (
    "<path:object_id>/", "<path:object_id>/change/", "<path:object_id>/history/", "<path:object_id>/delete/",
)  # fmt: skip


def all_routes() -> list[Route]:
    return [Route(pattern) for pattern in _patterns(get_resolver().url_patterns, "")]


def _patterns(entries: list[URLPattern | URLResolver], before: str) -> Iterator[str]:
    for entry in entries:
        pattern = before + str(entry.pattern)
        if isinstance(entry, URLResolver):
            yield from _patterns(entry.url_patterns, pattern)
        else:
            yield pattern


def api_patterns() -> set[str]:
    return {f"api/v1/{pattern}" for pattern in API} | API_ELSEWHERE


def api_routes(reach: ApiReach) -> list[Route]:
    return [Route(f"api/v1/{pattern}") for pattern, its_reach in API.items() if its_reach is reach]


def desk_routes(reach: Reach) -> list[Route]:
    return [Route(pattern) for pattern, its_reach in DESK.items() if its_reach is reach]


def admin_tables() -> list[type[Model]]:
    return sorted(admin.site._registry, key=lambda model: model._meta.label)


def table_address(model: type[Model]) -> str:
    return f"admin/{model._meta.app_label}/{model._meta.model_name}/"


def admin_patterns() -> set[str]:
    tables = [table_address(model) for model in admin_tables()]
    return ADMIN_ONCE | {table + ending for table in tables for ending in (*OF_A_TABLE, *OF_A_ROW)}
