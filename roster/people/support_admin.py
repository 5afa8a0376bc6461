"""How support looks at the record: never further than it may see, and without changing it.

Changes go through the desk and the loaders, which compute anew what hangs on them; this side door would not.
"""

from __future__ import annotations

from typing import Any, ClassVar

from django.contrib import admin
from django.db.models import Model, QuerySet, URLField
from django.http import Http404, HttpRequest


class SupportAdmin(admin.ModelAdmin):  # type: ignore[type-arg]
    list_per_page = 50
    show_full_result_count = False
    formfield_overrides: ClassVar = {URLField: {"assume_scheme": "https"}}

    def get_queryset(self, request: HttpRequest) -> QuerySet[Any]:
        everything = super().get_queryset(request)
        return everything if request.user.is_superuser else self.only_visible(everything, request)

    def get_object(self, request: HttpRequest, object_id: str, from_field: str | None = None) -> Model:
        """Somebody else's row answers as one that is not there, not with a message about it."""
        row: Model | None = super().get_object(request, object_id, from_field)
        if row is None:
            raise Http404
        return row

    def only_visible(self, rows: QuerySet[Any], request: HttpRequest) -> QuerySet[Any]:
        return rows.visible_to(request.user)  # type: ignore[attr-defined]

    def has_add_permission(self, request: HttpRequest, obj: Model | None = None) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: Model | None = None) -> bool:
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Model | None = None) -> bool:
        return False
