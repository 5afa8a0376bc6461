from django.urls import URLPattern, path

from coaching.api import pages
from coaching.api.description import Description
from coaching.api.resources import (
    blocks,
    check_in_packs,
    clients,
    exercises,
    exposures,
    flag_acts,
    flags,
    planned_sessions,
    root,
    session_logs,
    turnout,
    weeks,
)

app_name = "api"
V1 = "api/v1/"
urlpatterns: list[URLPattern] = [
    path(V1, root.Root.as_view(), name="root"),
    path(f"{V1}schema/", Description.as_view(), name="schema"),
    path(f"{V1}docs/", pages.documents, name="documents"),
    path(f"{V1}clients/", clients.Clients.as_view(), name="clients"),
    path(f"{V1}clients/<uuid:public_id>/", clients.OneClient.as_view()),
    path(f"{V1}exercises/", exercises.Exercises.as_view(), name="exercises"),
    path(f"{V1}exercises/<uuid:public_id>/", exercises.OneExercise.as_view()),
    path(f"{V1}blocks/", blocks.Blocks.as_view(), name="blocks"),
    path(f"{V1}blocks/<uuid:public_id>/", blocks.OneBlock.as_view()),
    path(f"{V1}planned-sessions/", planned_sessions.PlannedSessions.as_view(), name="planned-sessions"),
    path(f"{V1}planned-sessions/<uuid:public_id>/", planned_sessions.OnePlannedSession.as_view()),
    path(f"{V1}session-logs/", session_logs.SessionLogs.as_view(), name="session-logs"),
    path(f"{V1}session-logs/<uuid:public_id>/", session_logs.OneSessionLog.as_view()),
    path(f"{V1}weeks/", weeks.Weeks.as_view(), name="weeks"),
    path(f"{V1}exposures/", exposures.Exposures.as_view(), name="exposures"),
    path(f"{V1}flags/", flags.Flags.as_view(), name="flags"),
    path(f"{V1}flags/<uuid:public_id>/", flags.OneFlag.as_view(), name="flag"),
    path(f"{V1}flags/<uuid:public_id>/seen/", flag_acts.MarkSeen.as_view(), name="flag_seen"),
    path(f"{V1}flags/<uuid:public_id>/put-aside/", flag_acts.PutAside.as_view(), name="flag_put_aside"),
    path(f"{V1}flags/<uuid:public_id>/close/", flag_acts.Close.as_view(), name="flag_close"),
    path(f"{V1}turnout/", turnout.Turnout.as_view(), name="turnout"),
    path(f"{V1}check-in-packs/", check_in_packs.CheckInPacks.as_view(), name="check-in-packs"),
    path(f"{V1}check-in-packs/<uuid:public_id>/", check_in_packs.OneCheckInPack.as_view()),
    path("account/programs/", pages.programs, name="programs"),
    path("account/programs/<uuid:public_id>/revoke/", pages.revoke, name="revoke"),
    path("api/", root.nothing_here),
    path("api/<path:rest>", root.nothing_here),
]
