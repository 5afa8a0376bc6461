"""Who is signed in, and whose page is where, in the studio that the browser looks at."""

from __future__ import annotations

from importlib import import_module

from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY

from coaching.demo.cast import ASSISTANT, COACH, OUTSIDER, OWNER
from coaching.monitoring.models import Flag, Kind
from roster.people.models import Client, Coach

CAST = {"owner": OWNER, "coach": COACH, "assistant": ASSISTANT, "outsider": OUTSIDER}


def sessions() -> dict[str, str]:
    """The value of each one's session cookie."""
    return {name: _session_of(Coach.objects.get(email=person.email)) for name, person in CAST.items()}


def _session_of(coach: Coach) -> str:
    session = import_module(settings.SESSION_ENGINE).SessionStore()
    session[SESSION_KEY] = str(coach.pk)
    session[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[0]
    session[HASH_SESSION_KEY] = coach.get_session_auth_hash()
    session.save()
    return str(session.session_key)


def places() -> dict[str, str]:
    """By the names that `pages.py` puts into addresses."""
    return {
        "stalled": _story_of(Kind.STALL),
        "hurt": _story_of(Kind.PAIN),
        "ended": str(Client.objects.get(name="Hedda Munro").public_id),
    }


def _story_of(kind: str) -> str:
    flag = Flag.objects.holding().filter(kind=kind, client__studio__name=OWNER.studio).order_by("pk").first()
    if flag is None:
        raise LookupError(f"nobody in the studio has {kind}")
    return str(flag.client.public_id)
