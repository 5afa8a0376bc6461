from django.urls import URLPattern, path

from coaching.desk.views import clients, findings, morning, story, turnout, words

urlpatterns: list[URLPattern] = [
    path("", morning.morning, name="morning"),
    path("turnout/", turnout.turnout, name="turnout"),
    path("clients/", clients.clients, name="clients"),
    path("clients/<uuid:public_id>/", story.client_story, name="client_story"),
    path("clients/<uuid:public_id>/contacts/", words.contact_add, name="contact_add"),
    path("clients/<uuid:public_id>/notes/", words.note_add, name="note_add"),
    path("clients/<uuid:public_id>/findings/<str:kind>/seen/", findings.flag_seen, name="flag_seen"),
    path("clients/<uuid:public_id>/findings/<str:kind>/put-aside/", findings.flag_put_aside, name="flag_put_aside"),
    path("clients/<uuid:public_id>/findings/<str:kind>/close/", findings.flag_close, name="flag_close"),
]
