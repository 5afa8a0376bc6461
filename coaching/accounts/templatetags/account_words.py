from __future__ import annotations

from django import template
from django.conf import settings

from coaching.accounts.browsers import name_browser
from coaching.accounts.rules import MAIL_STAYS_HERE

register = template.Library()
register.filter("browser", name_browser)


@register.simple_tag
def mail_stays_here() -> bool:
    return settings.EMAIL_BACKEND == MAIL_STAYS_HERE
