from django.contrib import admin
from django.urls import include, path

handler400 = "coaching.api.faults.bad_request"
handler404 = "coaching.api.faults.not_found"
handler500 = "coaching.api.faults.server_error"
# Where allauth looks for what to answer to too many tries.
handler429 = "coaching.accounts.views.too_many_tries"

urlpatterns = [
    path("admin/", admin.site.urls),
    path("", include("coaching.operation.urls")),
    path("", include("coaching.accounts.urls")),
    path("", include("coaching.api.urls")),
    path("", include("coaching.desk.urls")),
]
