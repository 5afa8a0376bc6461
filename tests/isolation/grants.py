"""Who may do what with whose: the tables that every address is held to. Read them like this: find the person's line,
then the column of what is asked for.

ASVS 5.0 8.1.1 (the rules written down), 8.2.1 (who may use what), 8.2.2 (whose it is), 8.4.1 (studios apart).
"""

from __future__ import annotations

from typing import NamedTuple

# "change" includes "see"; "-" is answered as if it were not there. A column is told as what it is, of whom.
GRANTS = """
                       client:lead  client:colleague  client:elsewhere  file:lead  load:lead  shelf:here  shelf:elsewhere  account:lead  account:another  batch:lead
owner                  change       change            -                 -          change     see         -                -             -                change
lead                   change       -                 -                 change     change     see         -                change        -                change
sharing coach          change       -                 -                 -          -          see         -                -             -                -
covering coach         change       -                 -                 -          -          see         -                -             -                -
assistant              see          -                 -                 -          -          see         -                -             -                -
colleague              -            change            -                 -          -          see         -                -             -                -
colleague's assistant  -            see               -                 -          -          see         -                -             -                -
owner elsewhere        -            -                 change            -          -          -           see              -             -                -
coach elsewhere        -            -                 -                 -          -          -           see              -             -                -
support                -            -                 -                 -          -          -           -                -             -                -
superuser              -            -                 -                 -          -          -           -                -             -                -
disabled lead          -            -                 -                 -          -          -           -                -             -                -
signed out             -            -                 -                 -          -          -           -                -             -                -
anonymous              -            -                 -                 -          -          -           -                -             -                -
"""  # noqa: E501

# Who is sent to the door whatever they ask for. "signed out" still sends the cookie of a session that is over.
NOT_LET_IN = {"disabled lead", "signed out", "anonymous"}
# Who hands files in and sees what was loaded: not who only reads, and not who belongs to no studio.
LOADS_FILES = {"owner", "lead", "sharing coach", "covering coach", "colleague", "owner elsewhere", "coach elsewhere"}


class Caller(NamedTuple):
    """How somebody comes: in a browser that is signed in, or as a program with a token."""

    who: str
    by: str = "session"
    scopes: frozenset[str] = frozenset({"read", "act"})
    is_let_in: bool = True

    def __str__(self) -> str:
        return self.who if self.by == "session" else f"{self.who}, by {self.by}"


def read_grants() -> dict[tuple[str, str], str]:
    """By person and column."""
    header, *lines = GRANTS.strip("\n").splitlines()
    starts = [start for start in range(1, len(header)) if header[start - 1] == " " != header[start]]
    columns = header.split()
    grants = {}
    for line in lines:
        cells = [line[start:end].strip() for start, end in zip(starts, [*starts[1:], None], strict=True)]
        grants |= {(line[: starts[0]].strip(), column): cell for column, cell in zip(columns, cells, strict=True)}
    return grants


def people() -> list[str]:
    return list(dict.fromkeys(who for who, _ in read_grants()))


# Everybody at the desk and as a program, and tokens that open less than their coach may, or nothing.
SESSIONS = [Caller(who, is_let_in=who not in NOT_LET_IN) for who in people()]
NO_TOKEN_OF_ITS_OWN = {"signed out", "anonymous"}
PROGRAMS = [
    *(
        Caller(who, "token", is_let_in=who not in NOT_LET_IN)
        for who in people() if who not in NO_TOKEN_OF_ITS_OWN
    ),
    Caller("lead", "token to read", frozenset({"read"})),
    Caller("lead", "token to act", frozenset({"act"})),
    Caller("lead", "expired token", is_let_in=False),
    Caller("lead", "revoked token", is_let_in=False),
    Caller("lead", "token of another password", is_let_in=False),
    Caller("anonymous", "invented token", is_let_in=False),
]  # fmt: skip


class Place(NamedTuple):
    """An address: with which methods something is seen and changed there, and what its id names."""

    sees: str = ""
    changes: str = ""
    names: str | None = None
    # Who gets there: "everybody", "signed in", "loads files", or nobody ("nothing is here").
    for_whom: str = "signed in"

    @property
    def methods(self) -> set[str]:
        return {*self.sees.split(), *self.changes.split()}


GET, POST, BOTH = "GET", "POST", "GET POST"
CLIENT, FILE, LOAD = "clients/<uuid:public_id>/", "files/<uuid:file_id>/", "loads/<uuid:load_id>/"
BATCH = "packs/<uuid:public_id>/"
FINDING = f"{CLIENT}findings/<str:kind>/"
DESK: dict[str, Place] = {
    "": Place(sees=GET),
    "turnout/": Place(sees=GET),
    "clients/": Place(sees=GET),
    CLIENT: Place(sees=GET, names="client"),
    f"{CLIENT}pack/": Place(sees=GET, names="client"),
    f"{CLIENT}pack/as/<str:document>/": Place(sees=GET, names="client"),
    f"{CLIENT}pack/edit/": Place(changes=POST, names="client"),
    f"{CLIENT}pack/given/": Place(changes=POST, names="client"),
    "packs/": Place(sees=GET, for_whom="loads files"),
    "packs/add/": Place(changes=POST, for_whom="loads files"),
    BATCH: Place(sees=GET, names="batch"),
    f"{BATCH}progress/": Place(sees=GET, names="batch"),
    f"{BATCH}zip/": Place(sees=GET, names="batch"),
    f"{BATCH}go-on/": Place(changes=POST, names="batch"),
    f"{BATCH}drop/": Place(changes=POST, names="batch"),
    f"{CLIENT}contacts/": Place(changes=POST, names="client"),
    f"{CLIENT}notes/": Place(changes=POST, names="client"),
    f"{FINDING}seen/": Place(changes=POST, names="client"),
    f"{FINDING}put-aside/": Place(changes=POST, names="client"),
    f"{FINDING}close/": Place(changes=POST, names="client"),
    "check-ins/": Place(sees=GET),
    f"{CLIENT}check-in/": Place(sees=GET, names="client"),
    f"{CLIENT}check-in/answers/": Place(changes=POST, names="client"),
    f"{CLIENT}check-in/hold/": Place(changes=POST, names="client"),
    f"{CLIENT}check-in/move/": Place(changes=POST, names="client"),
    "files/": Place(sees=GET, for_whom="loads files"),
    "files/add/": Place(changes=POST, for_whom="loads files"),
    "files/progress/<uuid:token>/": Place(sees=GET, for_whom="loads files"),
    FILE: Place(sees=GET, names="file"),
    f"{FILE}mend/": Place(changes=POST, names="file"),
    f"{FILE}kind/": Place(changes=POST, names="file"),
    f"{FILE}check/": Place(changes=POST, names="file"),
    f"{FILE}confirm/": Place(changes=POST, names="file"),
    f"{FILE}drop/": Place(changes=POST, names="file"),
    LOAD: Place(sees=GET, names="load"),
    f"{LOAD}undo/": Place(sees=GET, names="load"),
    f"{LOAD}undo/now/": Place(changes=POST, names="load"),
    "account/": Place(sees=GET),
    "account/password/": Place(sees=BOTH),
    "account/sessions/": Place(sees=GET),
    "account/sessions/end/": Place(sees=POST),
    "account/confirm/": Place(sees=BOTH),
    "account/confirm/code/": Place(sees=BOTH),
    "account/confirm/passkey/": Place(sees=BOTH),
    "account/app/add/": Place(sees=BOTH),
    "account/app/remove/": Place(sees=BOTH),
    "account/recovery-codes/": Place(sees=GET),
    "account/recovery-codes/new/": Place(sees=BOTH),
    "account/passkeys/add/": Place(sees=BOTH),
    "account/passkeys/<int:pk>/remove/": Place(sees=GET, changes=POST, names="passkey"),
    "account/programs/": Place(sees=BOTH),
    "account/programs/<uuid:public_id>/revoke/": Place(changes=POST, names="token"),
    "api/v1/docs/": Place(sees=GET),
    "sign-in/": Place(sees=BOTH, for_whom="everybody"),
    "sign-in/second-factor/": Place(sees=BOTH, for_whom="everybody"),
    "sign-in/passkey/": Place(sees=BOTH, for_whom="everybody"),
    "sign-in/closed/": Place(sees=GET, for_whom="everybody"),
    "sign-out/": Place(sees=POST, for_whom="everybody"),
    "password/forgotten/": Place(sees=BOTH, for_whom="everybody"),
    "password/forgotten/sent/": Place(sees=GET, for_whom="everybody"),
    "password/new/<base36:uidb36>-<str:key>/": Place(sees=BOTH, for_whom="everybody"),
    "password/new/done/": Place(sees=GET, for_whom="everybody"),
    "healthz": Place(sees=GET, for_whom="everybody"),
    "readyz": Place(sees=GET, for_whom="everybody"),
    "metrics": Place(sees=GET, for_whom="everybody"),
}

ID = "<uuid:public_id>/"
API: dict[str, Place] = {
    "": Place(sees=GET),
    "schema/": Place(sees=GET),
    "clients/": Place(sees=GET),
    f"clients/{ID}": Place(sees=GET, names="client"),
    "exercises/": Place(sees=GET),
    f"exercises/{ID}": Place(sees=GET, names="exercise"),
    "blocks/": Place(sees=GET),
    f"blocks/{ID}": Place(sees=GET, names="block"),
    "planned-sessions/": Place(sees=GET),
    f"planned-sessions/{ID}": Place(sees=GET, names="planned session"),
    "session-logs/": Place(sees=GET),
    f"session-logs/{ID}": Place(sees=GET, names="session log"),
    "weeks/": Place(sees=GET),
    "exposures/": Place(sees=GET),
    "flags/": Place(sees=GET),
    f"flags/{ID}": Place(sees=GET, names="finding"),
    f"flags/{ID}seen/": Place(changes=POST, names="finding"),
    f"flags/{ID}put-aside/": Place(changes=POST, names="finding"),
    f"flags/{ID}close/": Place(changes=POST, names="finding"),
    "turnout/": Place(sees=GET),
    "check-in-packs/": Place(sees=GET),
    f"check-in-packs/{ID}": Place(sees=GET, names="pack version"),
}
NOTHING_IS_HERE = {"api/", "api/<path:rest>"}
