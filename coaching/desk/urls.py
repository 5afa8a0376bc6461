from django.urls import URLPattern, path

from coaching.desk.views import clients, files, findings, loads, morning, packs, story, turnout, words

urlpatterns: list[URLPattern] = [
    path("", morning.morning, name="morning"),
    path("turnout/", turnout.turnout, name="turnout"),
    path("clients/", clients.clients, name="clients"),
    path("clients/<uuid:public_id>/", story.client_story, name="client_story"),
    path("clients/<uuid:public_id>/pack/", packs.client_pack, name="client_pack"),
    path("clients/<uuid:public_id>/pack/edit/", packs.pack_edit, name="pack_edit"),
    path("clients/<uuid:public_id>/pack/given/", packs.pack_given, name="pack_given"),
    path("clients/<uuid:public_id>/contacts/", words.contact_add, name="contact_add"),
    path("clients/<uuid:public_id>/notes/", words.note_add, name="note_add"),
    path("clients/<uuid:public_id>/findings/<str:kind>/seen/", findings.flag_seen, name="flag_seen"),
    path("clients/<uuid:public_id>/findings/<str:kind>/put-aside/", findings.flag_put_aside, name="flag_put_aside"),
    path("clients/<uuid:public_id>/findings/<str:kind>/close/", findings.flag_close, name="flag_close"),
    path("files/", files.files, name="files"),
    path("files/add/", files.file_add, name="file_add"),
    path("files/progress/<uuid:token>/", files.file_progress, name="file_progress"),
    path("files/<uuid:file_id>/", files.file_review, name="file_review"),
    path("files/<uuid:file_id>/mend/", files.file_mend, name="file_mend"),
    path("files/<uuid:file_id>/kind/", files.file_kind, name="file_kind"),
    path("files/<uuid:file_id>/check/", files.file_check, name="file_check"),
    path("files/<uuid:file_id>/confirm/", files.file_confirm, name="file_confirm"),
    path("files/<uuid:file_id>/drop/", files.file_drop, name="file_drop"),
    path("loads/<uuid:load_id>/", loads.load_detail, name="load_detail"),
    path("loads/<uuid:load_id>/undo/", loads.load_undo_plan, name="load_undo_plan"),
    path("loads/<uuid:load_id>/undo/now/", loads.load_undo, name="load_undo"),
]
