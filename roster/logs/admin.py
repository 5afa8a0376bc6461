from __future__ import annotations

from django.contrib import admin

from roster.logs.models import SessionLog, SetLog, Submission
from roster.people.support_admin import SupportAdmin


@admin.register(Submission)
class SubmissionAdmin(SupportAdmin):
    list_display = ("uuid", "revision", "client", "door", "verdict", "received_at")
    list_filter = ("door", "verdict")
    list_select_related = ("client",)
    search_fields = ("uuid", "client__name", "client__key")


@admin.register(SessionLog)
class SessionLogAdmin(SupportAdmin):
    list_display = ("client", "performed_on", "planned_session", "has_details", "minutes")
    list_filter = ("has_details",)
    list_select_related = ("client", "planned_session")
    search_fields = ("client__name", "client__key")


@admin.register(SetLog)
class SetLogAdmin(SupportAdmin):
    list_display = ("session_log", "position", "exercise", "number", "reps", "load_entered", "load_unit")
    list_select_related = ("session_log", "exercise")
    search_fields = ("exercise__name", "session_log__client__name")
