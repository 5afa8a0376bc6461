from django.contrib import admin
from django.urls import include, path

handler500 = "coaching.databases.telling.server_error"
# Where allauth looks for what to answer to too many tries.
handler429 = "coaching.accounts.views.too_many_tries"

urlpatterns = [
    path("admin/", admin.site.urls),
    path("", include("coaching.operation.urls")),
    path("", include("coaching.accounts.urls")),
    path("", include("coaching.desk.urls")),
]
