"""A right form for each address that takes one, and every member that it knows: nothing else may have any effect."""

from __future__ import annotations

from typing import Any, NamedTuple

from tests.isolation.grants import BATCH, CLIENT, FILE, FINDING, LOAD


class Sent(NamedTuple):
    """`known` are further members that the address takes."""

    form: dict[str, Any]
    known: set[str] = set()


# Where an act goes back to, and where the page tells how far it has come.
BACK, PROGRESS = "next", "progress"
ABOUT_A_FINDING = {"how", "text", "subject", "urgency", BACK}
ACCOUNT_FORMS = {
    "account/password/": Sent({"oldpassword": "", "password1": "a kettle of tea", "password2": "a kettle of tea"}),
    "account/sessions/end/": Sent({}, {"session"}),
    "account/confirm/": Sent({"password": "a kettle of tea"}, {BACK}),
    "account/confirm/code/": Sent({"code": "123456"}, {BACK}),
    "account/confirm/passkey/": Sent({"credential": "{}"}, {BACK}),
    "account/app/add/": Sent({"code": "123456"}),
    "account/app/remove/": Sent({}),
    "account/recovery-codes/new/": Sent({}),
    "account/passkeys/add/": Sent({"name": "mine", "credential": "{}"}, {"passwordless"}),
    "account/passkeys/<int:pk>/remove/": Sent({}),
    "account/programs/": Sent({"name": "a program", "scopes": "read", "days": "30"}),
    "account/programs/<uuid:public_id>/revoke/": Sent({}),
    "sign-in/": Sent({"login": "nobody@example.org", "password": "a kettle of tea"}, {BACK, "remember"}),
    "sign-in/second-factor/": Sent({"code": "123456"}, {BACK}),
    "sign-in/passkey/": Sent({"credential": "{}"}, {BACK}),
    "sign-out/": Sent({}, {BACK}),
    "password/forgotten/": Sent({"email": "nobody@example.org"}, {BACK}),
    "password/new/<base36:uidb36>-<str:key>/": Sent({"password1": "a kettle of tea", "password2": "a kettle of tea"}),
}
# Which version of a pack was looked at.
OF_A_PACK = {"of": "1", "after": "1"}
FORMS: dict[str, Sent] = {
    f"{CLIENT}pack/edit/": Sent({**OF_A_PACK, "remark-found": "a word"}, {"stood", "hidden"}),
    f"{CLIENT}pack/given/": Sent({**OF_A_PACK, "how": "sent"}, {"stood", "to", "on"}),
    "packs/add/": Sent({"month": "2026-03"}, {"who", "size"}),
    f"{BATCH}go-on/": Sent({}),
    f"{BATCH}drop/": Sent({}),
    f"{CLIENT}contacts/": Sent({"how": "call", "text": "a word"}, {"made_on", BACK}),
    f"{CLIENT}notes/": Sent({"text": "a word"}, {"how", BACK}),
    f"{FINDING}seen/": Sent({"subject": "quillwort lift", "text": "a word"}, ABOUT_A_FINDING),
    f"{FINDING}put-aside/": Sent({"subject": "quillwort lift", "until": "2026-04-20"}, ABOUT_A_FINDING),
    f"{FINDING}close/": Sent({"subject": "quillwort lift", "text": "a word"}, ABOUT_A_FINDING),
    f"{CLIENT}check-in/answers/": Sent({"well": "a word"}, {"in_the_way", "change", "stood"}),
    f"{CLIENT}check-in/hold/": Sent(
        {"on": "2026-04-14", "outcome": "a word"}, {"promise", "promise_by", "next_on", "stood"}
    ),
    f"{CLIENT}check-in/move/": Sent({"to": "2026-04-20"}, {"stood"}),
    "files/add/": Sent({"whole": "yes"}, {"files", PROGRESS}),
    f"{FILE}mend/": Sent({"cell-2-reps": "9"}, {"leave_out", "put_back", "show", "page", PROGRESS}),
    f"{FILE}kind/": Sent({"kind": "blocks"}),
    f"{FILE}check/": Sent({}, {PROGRESS}),
    f"{FILE}confirm/": Sent({"version": "1"}, {PROGRESS}),
    f"{FILE}drop/": Sent({}),
    f"{LOAD}undo/now/": Sent({}, {PROGRESS}),
    **ACCOUNT_FORMS,
}
PROGRAM_ACTS = {
    "api/v1/flags/<uuid:public_id>/seen/": {"note": "a word"},
    "api/v1/flags/<uuid:public_id>/put-aside/": {"until": "2026-04-20"},
    "api/v1/flags/<uuid:public_id>/close/": {"note": "a word"},
}
DESK_FORMS: dict[str, dict[str, Any]] = {pattern: sent.form for pattern, sent in FORMS.items()}
PROGRAM_FORMS: dict[str, dict[str, Any]] = PROGRAM_ACTS
# Whatever state the finding is in: whose it is comes before.
STATE_MET = {"if-match": "*"}
