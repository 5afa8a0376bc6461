"""Only what is offered of allauth, under addresses of our own; the names are those by which it finds its pages."""

from allauth.account import views as account
from allauth.mfa.base import views as mfa
from allauth.mfa.recovery_codes import views as recovery_codes
from allauth.mfa.totp import views as totp
from allauth.mfa.webauthn import views as webauthn
from django.urls import URLPattern, path, register_converter, reverse_lazy
from django.urls.converters import StringConverter
from django.views.decorators.http import require_http_methods, require_safe

from coaching.accounts import views


class Base36Converter(StringConverter):
    """Up to the first hyphen: the key after it has one of its own."""

    regex = "[0-9A-Za-z]+"


register_converter(Base36Converter, "base36")
page = require_http_methods(["GET", "POST"])
overview = mfa.IndexView.as_view(template_name="account/overview.html")
new_recovery_codes = recovery_codes.generate_recovery_codes
remove_passkey = webauthn.RemoveWebAuthnView.as_view(success_url=reverse_lazy("mfa_index"))

urlpatterns: list[URLPattern] = [
    path("sign-in/", page(account.login), name="account_login"),
    path("sign-in/second-factor/", page(mfa.authenticate), name="mfa_authenticate"),
    path("sign-in/passkey/", page(webauthn.login_webauthn), name="mfa_login_webauthn"),
    path("sign-in/closed/", require_safe(account.account_inactive), name="account_inactive"),
    path("sign-out/", views.sign_out, name="account_logout"),
    path("password/forgotten/", page(views.ForgottenPassword.as_view()), name="account_reset_password"),
    path("password/forgotten/sent/", require_safe(account.password_reset_done), name="account_reset_password_done"),
    path(
        "password/new/<base36:uidb36>-<str:key>/",
        page(account.password_reset_from_key),
        name="account_reset_password_from_key",
    ),
    path(
        "password/new/done/",
        require_safe(account.password_reset_from_key_done),
        name="account_reset_password_from_key_done",
    ),
    path("account/", require_safe(overview), name="mfa_index"),
    path("account/password/", page(account.password_change), name="account_change_password"),
    path("account/sessions/", views.sessions, name="account_sessions"),
    path("account/sessions/end/", views.end_sessions, name="account_end_sessions"),
    path("account/confirm/", page(views.Confirm.as_view()), name="account_reauthenticate"),
    path("account/confirm/code/", page(views.ConfirmByCode.as_view()), name="mfa_reauthenticate"),
    path("account/confirm/passkey/", page(views.ConfirmByPasskey.as_view()), name="mfa_reauthenticate_webauthn"),
    path("account/app/add/", page(views.AddApp.as_view()), name="mfa_activate_totp"),
    path("account/app/remove/", page(totp.deactivate_totp), name="mfa_deactivate_totp"),
    path("account/recovery-codes/", require_safe(recovery_codes.view_recovery_codes), name="mfa_view_recovery_codes"),
    path("account/recovery-codes/new/", page(new_recovery_codes), name="mfa_generate_recovery_codes"),
    path("account/passkeys/add/", page(webauthn.add_webauthn), name="mfa_add_webauthn"),
    path("account/passkeys/<int:pk>/remove/", page(remove_passkey), name="mfa_remove_webauthn"),
]
