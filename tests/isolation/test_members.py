"""Members of forms and bodies beyond those an address takes have no effect, whatever field they are called after.

ASVS 5.0 15.3.3 (mass assignment), 8.2.3 (who may change which field).
"""

from __future__ import annotations

from typing import Any

import pytest
from django.apps import apps
from django.core.management.color import no_style
from django.db import connection, transaction
from django.db.models import Field, Model, UUIDField

from coaching.loads.models import FileInReview
from tests.isolation.asking import Answer
from tests.isolation.forms import FORMS, PROGRAM_ACTS, STATE_MET, Sent
from tests.isolation.grants import API, DESK, PROGRAMS, Caller
from tests.isolation.objects import Thing
from tests.isolation.routes import Route
from tests.isolation.test_routes import OUR_APPS
from tests.isolation.walking import BESIDE, NOBODY, Walk
from tests.isolation.world import World

# Forms that the lead can't fill in rightly here: without a password, an app or a passkey of theirs.
WITHOUT_EFFECT = {
    "account/passkeys/<int:pk>/remove/", "sign-in/passkey/", "account/app/remove/", "account/recovery-codes/new/",
}  # fmt: skip
LEAD = Caller("lead")
PROGRAM = next(one for one in PROGRAMS if (one.who, one.by) == ("lead", "token"))
Rows = dict[str, list[tuple[Any, ...]]]


def models() -> list[type[Model]]:
    return [model for label in (*OUR_APPS, "loads", "mfa") for model in apps.get_app_config(label).get_models()]


def telling(model: type[Model]) -> list[str]:
    """Columns whose values do not come by chance or by counting."""
    chance = {"digest", "token_key", "fingerprint", "last_used_at"}
    fields: list[Field[Any, Any]] = [one for one in model._meta.concrete_fields if not isinstance(one, UUIDField)]
    return [one.attname for one in fields if not one.primary_key and one.name not in chance]


def the_record() -> Rows:
    return {model._meta.label: sorted(model.objects.values_list(*telling(model)), key=repr) for model in models()}


def every_field(walk: Walk) -> dict[str, Any]:
    """All names of fields that there are, with values that would give somebody more, or somebody else's."""
    world = walk.asking.world
    elsewhere = world.people["owner elsewhere"]
    south = world.clients["south"].client
    assert elsewhere is not None
    names = {name for model in models() for one in model._meta.get_fields() for name in (one.name, f"{one.name}_id")}
    tempting = {
        "studio": elsewhere.studio_id, "coach": elsewhere.pk, "lead": elsewhere.pk, "user": elsewhere.pk,
        "by": elsewhere.pk, "client": south.pk, "public_id": str(south.public_id), "role": "owner", "is_staff": "1",
        "is_superuser": "1", "id": "1", "pk": "1", "client_id": str(south.public_id),
    }  # fmt: skip
    more = {f"{name}_id": value for name, value in tempting.items()}
    return dict.fromkeys(sorted(names), "1") | more | tempting


def address_of(pattern: str, thing: Thing) -> str:
    ident = dict.fromkeys(("public_id", "file_id", "load_id", "pk"), thing.ident)
    return Route(pattern).address(BESIDE | thing.beside | ident)


def ask(walk: Walk, pattern: str, form: dict[str, Any], caller: Caller, thing: Thing) -> tuple[Answer, Rows]:
    """What is answered, and how the record stands after it."""
    headers = STATE_MET if caller.by == "token" else None
    # Signs in, if need be, before what is taken back.
    walk.asking.way_of(caller)
    number_new_rows_alike()
    with transaction.atomic():
        answer = walk.asking(caller, "POST", address_of(pattern, thing), form, headers, keep=True)
        stands = the_record()
        transaction.set_rollback(True)
    return answer, stands


def number_new_rows_alike() -> None:
    """A server goes on counting from where something that is taken back had come to; other rows name those numbers."""
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), models()):
            cursor.execute(statement)


def of_lead(walk: Walk, kind: str | None) -> Thing:
    return next((thing for thing in walk.things if thing.kind == kind and thing.column.endswith(":lead")), NOBODY)


def at_present(sent: Sent) -> Sent:
    """A decision about a file names the state that it is in."""
    if "version" not in sent.form:
        return sent
    return sent._replace(form={"version": FileInReview.objects.get().version})


@pytest.mark.parametrize("pattern", FORMS)
def test_a_form_with_every_field_there_is_does_what_it_does_without(world: World, pattern: str) -> None:
    walk, sent = Walk.through(world), at_present(FORMS[pattern])
    thing = of_lead(walk, DESK[pattern].names)
    beyond = {name: value for name, value in every_field(walk).items() if name not in {*sent.form, *sent.known}}

    plain, after_plain = ask(walk, pattern, sent.form, LEAD, thing)
    laden, after_laden = ask(walk, pattern, beyond | sent.form, LEAD, thing)

    assert laden.status == plain.status
    assert plain.status < 400 or pattern in WITHOUT_EFFECT
    assert after_laden == after_plain


@pytest.mark.parametrize("pattern", PROGRAM_ACTS)
def test_a_body_with_a_field_beyond_is_refused_whole(world: World, pattern: str) -> None:
    walk, body = Walk.through(world), PROGRAM_ACTS[pattern]
    thing = of_lead(walk, "finding")
    done, _ = ask(walk, pattern, body, PROGRAM, thing)
    before = the_record()
    beyond = {name: value for name, value in every_field(walk).items() if name not in {*body, "note", "contact"}}

    refused = {
        name: walk.asking(PROGRAM, "POST", address_of(pattern, thing), {**body, name: value}, STATE_MET, keep=True)
        for name, value in beyond.items()
    }

    assert done.status == 200
    assert [name for name, one in refused.items() if one.status != 400 or f'"#/{name}"' not in one.body] == []
    assert the_record() == before


def test_every_address_that_takes_something_has_its_form() -> None:
    desk = {pattern for pattern, place in DESK.items() if "POST" in place.methods}
    programs = {f"api/v1/{pattern}" for pattern, place in API.items() if "POST" in place.methods}

    assert (desk, programs) == (FORMS.keys(), PROGRAM_ACTS.keys())
