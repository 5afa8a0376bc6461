"""Who is signed in, and whose page is where, in the studio that the browser looks at."""

from __future__ import annotations

import time
from datetime import timedelta
from importlib import import_module

from allauth.account.utils import user_pk_to_url_str
from allauth.mfa.models import Authenticator
from allauth.mfa.recovery_codes.internal.auth import RecoveryCodes
from allauth.mfa.totp.internal.auth import TOTP
from allauth.usersessions.models import UserSession
from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.auth.tokens import default_token_generator
from django.utils import timezone

from coaching.check_ins.batches import ask_for_batch, work_through
from coaching.check_ins.composing import compose
from coaching.check_ins.content import Part
from coaching.check_ins.edits import Edits
from coaching.check_ins.models import PackVersion
from coaching.check_ins.periods import month_before
from coaching.check_ins.versions import keep_version, mark_given
from coaching.demo.cast import ASSISTANT, COACH, OUTSIDER, OWNER
from coaching.loads.models import FileInReview, Load
from coaching.monitoring.models import Flag, Kind
from roster.people.models import Client, Coach

A_DAY_S = 86_400
# A secret of an authenticator app, and what allauth keeps of a passkey as far as pages show it.
APP_SECRET = "JBSWY3DPEHPK3PXPJBSWY3DPEHPK3PXP"
PASSKEY = {"name": "Laptop", "credential": {"clientExtensionResults": {"credProps": {"rk": True}}}}
CAST = {"owner": OWNER, "coach": COACH, "assistant": ASSISTANT, "outsider": OUTSIDER}


def sessions() -> dict[str, str]:
    """The value of each one's session cookie."""
    return {name: _session_of(Coach.objects.get(email=person.email)) for name, person in CAST.items()}


def _session_of(coach: Coach) -> str:
    session = import_module(settings.SESSION_ENGINE).SessionStore()
    session[SESSION_KEY] = str(coach.pk)
    session[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[0]
    session[HASH_SESSION_KEY] = coach.get_session_auth_hash()
    # Has just said the password, and stays as if: what decides who can sign in does not ask for it again.
    said = {"method": "password", "at": time.time() + A_DAY_S, "reauthenticated": True}
    session["account_authentication_methods"] = [said]
    session["account_authentication_methods_user"] = str(coach.pk)
    session.save()
    UserSession.objects.create(user=coach, session_key=session.session_key, ip="127.0.0.1", user_agent="Firefox")
    return str(session.session_key)


def places() -> dict[str, str]:
    """By the names that `pages.py` puts into addresses."""
    # The link for a new password is of somebody whom no test signs in: it would hold no longer.
    coach, assistant, outsider = (Coach.objects.get(email=one.email) for one in (COACH, ASSISTANT, OUTSIDER))
    _add_app(coach)
    return {
        "new_password": f"{user_pk_to_url_str(outsider)}-{_lasting_token(outsider)}",
        "passkey": str(_add_passkey(assistant).pk),
        "kept_pack": _kept_pack(),
        "batch": _batch(is_made=True),
        "batch_cut_off": _batch(is_made=False),
        "stalled": _story_of(Kind.STALL),
        "hurt": _story_of(Kind.PAIN),
        "owed_a_call": _story_of(Kind.CHECK_IN_DUE),
        "handed_in": str(FileInReview.objects.get(studio__name=OWNER.studio).public_id),
        "logs_load": _load_of("logs"),
        "blocks_load": _load_of("blocks"),
        "ended": str(Client.objects.get(name="Hedda Munro").public_id),
    }


def _add_app(coach: Coach) -> None:
    TOTP.activate(coach, APP_SECRET)
    RecoveryCodes.activate(coach)


def _add_passkey(coach: Coach) -> Authenticator:
    return Authenticator.objects.create(user=coach, type=Authenticator.Type.WEBAUTHN, data=PASSKEY)


def _lasting_token(coach: Coach) -> str:
    """Of a link for a new password, made tomorrow: it holds for minutes, and tests may take longer."""
    made_at = default_token_generator._num_seconds(default_token_generator._now()) + A_DAY_S
    return str(default_token_generator._make_token_with_timestamp(coach, made_at, default_token_generator.secret))


def _load_of(kind: str) -> str:
    return str(Load.objects.filter(studio__name=OWNER.studio, kind=kind).latest("pk").public_id)


def _story_of(kind: str) -> str:
    flag = Flag.objects.holding().filter(kind=kind, client__studio__name=OWNER.studio).order_by("pk").first()
    if flag is None:
        raise LookupError(f"nobody in the studio has {kind}")
    return str(flag.client.public_id)


def _kept_pack() -> str:
    """Of somebody who hurts: last month as it was kept, with a part hidden and a remark, and given."""
    client = Client.objects.get(public_id=_story_of(Kind.PAIN))
    month = month_before(client.today(timezone.now()))
    edits = Edits(hidden=frozenset({Part.WEEKS}), remarks={Part.FIGURES: "Two weeks with the flu.\n\nBack since."})
    pack = compose(client, month, now=timezone.now())
    version = keep_version(client=client, composed=pack, edits=edits, after=0, by=client.lead, now=timezone.now())
    mark_given(version=version, how=PackVersion.How.SENT, to="", on=client.today(timezone.now()), by=client.lead)
    return str(client.public_id)


def _batch(*, is_made: bool) -> str:
    """Packs of two: one of them has nothing to tell."""
    owner = Coach.objects.get(email=OWNER.email)
    clients = list(Client.objects.filter(studio=owner.studio).order_by("-joined_on"))
    month = month_before(clients[0].today(timezone.now()))
    asked_at = timezone.now() - timedelta(hours=1)
    batch = ask_for_batch(clients=[clients[0], clients[-1]], period=month, size="a4", by=owner, now=asked_at)
    if is_made:
        work_through(batch.pk)
    return str(batch.public_id)
