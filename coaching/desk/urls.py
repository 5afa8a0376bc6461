from django.urls import URLPattern, path

from coaching.desk.views import clients, morning, signing_in

urlpatterns: list[URLPattern] = [
    path("", morning.morning, name="morning"),
    path("clients/", clients.clients, name="clients"),
    path("sign-in/", signing_in.SignIn.as_view(), name="sign_in"),
    path("sign-out/", signing_in.SignOut.as_view(), name="sign_out"),
]
