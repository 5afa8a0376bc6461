"""A code of an authenticator app is taken once (RFC 6238, 5.2), however many processes it reaches at the same time."""

from __future__ import annotations

from allauth.core.internal.cryptokit import compare_user_code
from allauth.mfa.models import Authenticator
from allauth.mfa.totp.internal.auth import format_hotp_value, hotp_value, yield_hotp_counters_from_time
from allauth.mfa.utils import decrypt
from django.db import transaction

LAST_STEP = "last_step"


@transaction.atomic
def use_step(authenticator: Authenticator, code: str) -> bool:
    """Whether the code belongs to a step later than any that was used; then it is used now."""
    row = Authenticator.objects.select_for_update().get(pk=authenticator.pk)
    step = _step_of(decrypt(row.data["secret"]), code)
    if step is None or step <= row.data.get(LAST_STEP, -1):
        return False
    row.data[LAST_STEP] = step
    row.save(update_fields=["data"])
    return True


def _step_of(secret: str, code: str) -> int | None:
    for step in yield_hotp_counters_from_time():
        if compare_user_code(actual=code, expected=format_hotp_value(hotp_value(secret, step))):
            return step
    return None
