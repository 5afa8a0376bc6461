from __future__ import annotations

from typing import Any

from allauth.account.decorators import secure_admin_login
from django.contrib.admin import AdminSite
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.decorators import method_decorator


class SideDoor(AdminSite):
    """The framework's admin, reached through the same door as the desk, second factor included."""

    @method_decorator(secure_admin_login)
    def login(self, request: HttpRequest, extra_context: dict[str, Any] | None = None) -> HttpResponse:
        return redirect("admin:index")

    def password_change(self, request: HttpRequest, extra_context: dict[str, Any] | None = None) -> HttpResponse:
        return redirect("account_change_password")
