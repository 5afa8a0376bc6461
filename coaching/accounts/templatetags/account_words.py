from __future__ import annotations

from django import template
from django.conf import settings

from coaching.accounts.rules import MAIL_STAYS_HERE

register = template.Library()


@register.simple_tag
def mail_stays_here() -> bool:
    return settings.EMAIL_BACKEND == MAIL_STAYS_HERE
