from __future__ import annotations

from typing import Any, ClassVar

from django.contrib import admin
from django.db.models import Model, QuerySet
from django.http import HttpRequest

from roster.people.models import (
    CheckIn,
    CheckInAnswer,
    Client,
    Coach,
    Contact,
    KitItem,
    Limitation,
    Note,
    Pause,
    Promise,
    Studio,
)
from roster.people.support_admin import SupportAdmin


@admin.register(Studio)
class StudioAdmin(SupportAdmin):
    list_display = ("name", "time_zone", "check_ins_from", "opened_at")
    search_fields = ("name",)

    def only_visible(self, rows: QuerySet[Any], request: HttpRequest) -> QuerySet[Any]:
        return rows.filter(pk=request.user.studio_id)


@admin.register(Coach)
class CoachAdmin(SupportAdmin):
    """Support may let somebody in or out, and change what they may see; passwords stay with the person."""

    list_display = ("email", "first_name", "last_name", "studio", "role", "is_active", "last_login")
    list_filter = ("role", "is_active")
    search_fields = ("email", "first_name", "last_name")
    fields = ("email", "first_name", "last_name", "studio", "role", "time_zone", "is_active", "last_login")
    readonly_fields = ("email", "studio", "last_login")

    def only_visible(self, rows: QuerySet[Any], request: HttpRequest) -> QuerySet[Any]:
        if request.user.studio_id is None:
            return rows.none()
        return rows.filter(studio_id=request.user.studio_id)

    def has_change_permission(self, request: HttpRequest, obj: Model | None = None) -> bool:
        return bool(request.user.is_superuser)


@admin.register(Client)
class ClientAdmin(SupportAdmin):
    list_display = ("name", "key", "studio", "lead", "state", "sends", "joined_on")
    list_filter = ("state", "sends", "unit")
    list_select_related = ("studio", "lead")
    search_fields = ("name", "key", "email")


class OfClientAdmin(SupportAdmin):
    list_select_related: ClassVar = ("client",)
    search_fields: ClassVar = ("client__name", "client__key")


@admin.register(KitItem)
class KitItemAdmin(OfClientAdmin):
    list_display = ("client", "place", "implement", "loads_entered", "unit")
    list_filter = ("place",)


@admin.register(Limitation)
class LimitationAdmin(OfClientAdmin):
    list_display = ("client", "what", "degree", "from_on", "until_on")
    list_filter = ("degree",)


@admin.register(Pause)
class PauseAdmin(OfClientAdmin):
    list_display = ("client", "from_on", "until_on", "reason", "entered_by", "withdrawn_at")
    list_filter = ("reason", "entered_by")


@admin.register(Note)
class NoteAdmin(OfClientAdmin):
    list_display = ("client", "written_at", "written_by")


@admin.register(Contact)
class ContactAdmin(OfClientAdmin):
    list_display = ("client", "how", "made_on", "made_by")
    list_filter = ("how",)


@admin.register(Promise)
class PromiseAdmin(OfClientAdmin):
    list_display = ("client", "text", "made_on", "due_on", "kept")
    list_filter = ("kept",)


@admin.register(CheckIn)
class CheckInAdmin(OfClientAdmin):
    list_display = ("client", "due_on", "held_on", "held_by", "next_on")


@admin.register(CheckInAnswer)
class CheckInAnswerAdmin(SupportAdmin):
    list_display = ("check_in", "question", "noted_at", "noted_by")
    list_filter = ("question",)
    list_select_related: ClassVar = ("check_in",)
    search_fields: ClassVar = ("check_in__client__name", "check_in__client__key")
