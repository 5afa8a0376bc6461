"""Tokens stay with the person: support sees and makes none."""

from django.contrib import admin

from coaching.api.models import AccessToken

if admin.site.is_registered(AccessToken):
    admin.site.unregister(AccessToken)
