"""What allauth would show to support: second factors, sessions and addresses stay with the person."""

from allauth.account.models import EmailAddress, EmailConfirmation
from allauth.mfa.models import Authenticator
from allauth.usersessions.models import UserSession
from django.contrib import admin

for model in (EmailAddress, EmailConfirmation, Authenticator, UserSession):
    if admin.site.is_registered(model):
        admin.site.unregister(model)
