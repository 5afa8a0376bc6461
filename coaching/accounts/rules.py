"""The rules of signing in, as the framework and allauth read them from the settings.

Tries: ten in a quarter of an hour for one address, fifty from one place, whichever process they reach. A browser that
has signed somebody in before has ten of its own, so that nobody is locked out by a stranger's guessing. A session ends
twelve hours after its last page, and after a week in any case. A link for a new password holds for ten minutes, once.
"""

from datetime import timedelta

AUTHENTICATION_BACKENDS = ["allauth.account.auth_backends.AuthenticationBackend"]
LOGIN_URL = "account_login"
LOGIN_REDIRECT_URL = "morning"
LOGOUT_REDIRECT_URL = "account_login"

PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 12}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.NumericPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
]
PASSWORD_RESET_TIMEOUT = int(timedelta(minutes=10).total_seconds())

SESSION_ENGINE = "coaching.accounts.session_store"
SESSION_ENDS_UNUSED_AFTER = timedelta(hours=12)
SESSION_ENDS_AFTER = timedelta(days=7)
SESSION_COOKIE_AGE = int(SESSION_ENDS_AFTER.total_seconds())

MAIL_STAYS_HERE = "coaching.accounts.mail_folder.MailFolder"

ACCOUNT_ADAPTER = "coaching.accounts.adapter.AccountAdapter"
ACCOUNT_LOGIN_METHODS = {"email"}
ACCOUNT_SIGNUP_FIELDS = ["email*", "password1*", "password2*"]
ACCOUNT_USER_MODEL_USERNAME_FIELD = None
# An address is the owner's or the command's word, and nobody signs up by themselves: there is nothing to verify.
ACCOUNT_EMAIL_VERIFICATION = "none"
ACCOUNT_EMAIL_NOTIFICATIONS = True
ACCOUNT_SESSION_REMEMBER = True
ACCOUNT_PASSWORD_RESET_TOKEN_GENERATOR = "django.contrib.auth.tokens.PasswordResetTokenGenerator"
ACCOUNT_FORMS = {
    "login": "coaching.accounts.forms.SignInForm",
    "reset_password": "coaching.accounts.forms.ForgottenPasswordForm",
    "reset_password_from_key": "coaching.accounts.forms.NewPasswordForm",
    "change_password": "coaching.accounts.forms.ChangePasswordForm",
    "reauthenticate": "coaching.accounts.forms.ConfirmForm",
}
ACCOUNT_RATE_LIMITS = {
    "login": "60/m/ip",
    "login_failed": "10/15m/key,50/15m/ip",
    "reset_password": "20/m/ip,3/15m/key",
    "reset_password_from_key": "20/m/ip",
    "change_password": "5/m/user",
    "reauthenticate": "10/m/user",
}

MFA_ADAPTER = "coaching.accounts.adapter.SecondFactorAdapter"
MFA_SUPPORTED_TYPES = ["totp", "webauthn", "recovery_codes"]
MFA_PASSKEY_LOGIN_ENABLED = True
MFA_ALLOW_UNVERIFIED_EMAIL = True
MFA_RECOVERY_CODES_SHOW_ONCE = True
MFA_TOTP_ISSUER = "Muster"
# A code counts for its own 30 s alone, and once.
MFA_TOTP_TOLERANCE = 0
MFA_FORMS = {
    "authenticate": "coaching.accounts.forms.SecondFactorForm",
    "reauthenticate": "coaching.accounts.forms.ConfirmByCodeForm",
    "activate_totp": "coaching.accounts.forms.AddAppForm",
    "add_webauthn": "coaching.accounts.forms.AddPasskeyForm",
}

DEVICE_IS_KNOWN_FOR = timedelta(days=180)
