"""How support looks at the record: never further than it may see, and without changing it.

Changes go through the desk and the loaders, which compute anew what hangs on them; this side door would not.
"""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.db.models import Model, QuerySet
from django.http import HttpRequest


class SupportAdmin(admin.ModelAdmin):  # type: ignore[type-arg]
    list_per_page = 50
    show_full_result_count = False

    def get_queryset(self, request: HttpRequest) -> QuerySet[Any]:
        everything = super().get_queryset(request)
        return everything if request.user.is_superuser else self.only_visible(everything, request)

    def only_visible(self, rows: QuerySet[Any], request: HttpRequest) -> QuerySet[Any]:
        return rows.visible_to(request.user)  # type: ignore[attr-defined]

    def has_add_permission(self, request: HttpRequest, obj: Model | None = None) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: Model | None = None) -> bool:
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Model | None = None) -> bool:
        return False
