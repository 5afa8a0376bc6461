from __future__ import annotations

from django.contrib import admin

from roster.blocks.models import Block, Exercise, PlannedSession, Progression
from roster.people.support_admin import SupportAdmin


@admin.register(Exercise)
class ExerciseAdmin(SupportAdmin):
    list_display = ("name", "studio", "slot", "pattern", "implement", "measure")
    list_filter = ("slot", "pattern", "measure")
    list_select_related = ("studio",)
    search_fields = ("name",)


@admin.register(Progression)
class ProgressionAdmin(SupportAdmin):
    list_display = ("name", "studio")
    list_select_related = ("studio",)
    search_fields = ("name",)


@admin.register(Block)
class BlockAdmin(SupportAdmin):
    list_display = ("label", "client", "starts_on", "weeks", "published_at")
    list_select_related = ("client",)
    search_fields = ("label", "client__name", "client__key")
    date_hierarchy = "starts_on"


@admin.register(PlannedSession)
class PlannedSessionAdmin(SupportAdmin):
    list_display = ("block", "week", "label", "suggested_on")
    list_select_related = ("block",)
    search_fields = ("label", "block__label", "block__client__name")
