"""Settings: embedded by default (an SQLite file, no broker), the same code on PostgreSQL by `DATABASE_URL`."""

import os
from contextlib import suppress
from logging import INFO
from pathlib import Path
from tempfile import NamedTemporaryFile
from urllib.parse import quote

import environ
from csp.constants import NONE, SELF
from django.core.exceptions import ImproperlyConfigured
from django.core.management.utils import get_random_secret_key

from coaching.accounts.rules import *  # noqa: F403
from coaching.api.rules import *  # noqa: F403
from coaching.databases.connecting import database, shared_values
from coaching.operation.logs import logging_as
from coaching.operation.metrics import counted
from coaching.operation.static_files import static_files

BASE_DIR = Path(__file__).resolve().parent.parent
env = environ.Env()
# The embedded database, its key, and what the demo makes. MUSTER_HOME moves it.
HOME_DIR = Path(env.str("MUSTER_HOME", default=str(BASE_DIR / "var")))
DATABASE_URL = env.str("DATABASE_URL", default="") or f"sqlite:///{quote(str(HOME_DIR / 'muster.sqlite3'))}"
IS_EMBEDDED = DATABASE_URL.startswith("sqlite:")
# Signs who is signed in: a key that can be guessed is none.
SECRET_KEY_LENGTH = 50


def _secret_key() -> str:
    given = env.str("SECRET_KEY", default="")
    if not given and IS_EMBEDDED:
        return _kept_secret_key()
    if not given:
        raise ImproperlyConfigured("with a database server in DATABASE_URL, SECRET_KEY must be given too")
    if len(given) < SECRET_KEY_LENGTH:
        raise ImproperlyConfigured(f"SECRET_KEY is too short: {SECRET_KEY_LENGTH} random characters at least")
    return given


def _kept_secret_key() -> str:
    """A key made once and kept beside the embedded database, readable by its owner alone."""
    path = HOME_DIR / "secret_key"
    if not path.exists():
        HOME_DIR.mkdir(parents=True, exist_ok=True)
        # Whole before it has its name, so that a second process starting now reads all of it.
        with NamedTemporaryFile("w", dir=HOME_DIR) as new, suppress(FileExistsError):
            new.write(get_random_secret_key())
            new.flush()
            os.link(new.name, path)
    return path.read_text().strip()


DEBUG = env.bool("DEBUG", default=False)
SECRET_KEY = _secret_key()
# Keys of before: what they signed holds until they are taken out here.
SECRET_KEY_FALLBACKS = env.list("SECRET_KEY_FALLBACKS", default=[])
ALLOWED_HOSTS = env.list("ALLOWED_HOSTS", default=["127.0.0.1", "localhost", "[::1]"])
# Whether people reach the desk over HTTPS, through a proxy that says so in X-Forwarded-Proto.
HTTPS = env.bool("HTTPS", default=False)

INSTALLED_APPS = [
    "coaching.accounts.apps.SideDoorConfig",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    # Only for allauth's second factors.
    "django.contrib.humanize",
    "allauth",
    "allauth.account",
    "allauth.mfa",
    "allauth.usersessions",
    "rest_framework",
    # For its tokens, of which ours are a kind.
    "knox",
    "drf_spectacular",
    "roster.people",
    "roster.blocks",
    "roster.logs",
    "coaching",
    "coaching.monitoring",
    "coaching.accounts",
    "coaching.loads",
    "coaching.check_ins",
    "coaching.operation",
    "coaching.api",
    "coaching.desk",
]

# Tokens have a table of our own. The package would make another beside it, which nobody uses and no test can empty.
MIGRATION_MODULES = {"knox": None}

# Whether requests are counted, for a monitoring system to fetch at /metrics, and what it has to show for it.
METRICS = env.bool("METRICS", default=False)
METRICS_TOKEN = env.str("METRICS_TOKEN", default="")

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "csp.middleware.CSPMiddleware",
    "coaching.headers.add_headers",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "coaching.operation.request_log.RequestLog",
    "coaching.operation.probes.answer_probes",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "coaching.databases.telling.TellDatabaseFaults",
    "coaching.accounts.session_store.note_use_of_session",
    "allauth.account.middleware.AccountMiddleware",
]
MIDDLEWARE = counted(MIDDLEWARE, wanted=METRICS, token=METRICS_TOKEN)

ROOT_URLCONF = "coaching.urls"
WSGI_APPLICATION = "coaching.wsgi.application"
AUTH_USER_MODEL = "people.Coach"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ],
        },
    },
    # What a page repeats by the hundred: the files in desk/rows/ that end in .jinja.
    {
        "BACKEND": "django.template.backends.jinja2.Jinja2",
        "DIRS": [BASE_DIR / "templates"],
        "OPTIONS": {"environment": "coaching.desk.jinja.environment"},
    },
]

if IS_EMBEDDED:
    HOME_DIR.mkdir(parents=True, exist_ok=True)
DATABASES = {"default": database(DATABASE_URL)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
FIXTURE_DIRS = [BASE_DIR / "fixtures"]

# Where processes share what they count, such as tries to sign in.
REDIS_URL = env.str("REDIS_URL", default="")
CACHES = {"default": shared_values(REDIS_URL)}

# Until a server is named, mail stays here, as files.
EMAIL_FILE_PATH = str(HOME_DIR / "mail")
EMAIL_BACKEND = MAIL_STAYS_HERE  # noqa: F405
if env.str("EMAIL_URL", default=""):
    globals().update(env.email_url_config(env.str("EMAIL_URL")))
EMAIL_TIMEOUT = 10
DEFAULT_FROM_EMAIL = env.str("EMAIL_FROM", default="muster@localhost")

LANGUAGE_CODE = "en-gb"
TIME_ZONE = "UTC"
USE_TZ = True
USE_I18N = False

STATIC_URL = "static/"
globals().update(static_files(env.str("STATIC_ROOT", default="")))

SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_HTTPONLY = True
CSRF_COOKIE_SAMESITE = "Lax"
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
MESSAGE_STORAGE = "coaching.cookies.MessageStorage"
# How many proxies of one's own add to X-Forwarded-For; what stands before their entries may be anybody's invention.
ALLAUTH_TRUSTED_PROXY_COUNT = env.int("PROXIES", default=0)

if HTTPS:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
    SECURE_SSL_REDIRECT = True
    # Asked for by what runs the desk, on its own machine.
    SECURE_REDIRECT_EXEMPT = [r"^(healthz|readyz|metrics)$"]
    # A year, as browsers ask for before they believe it for good.
    SECURE_HSTS_SECONDS = 31_536_000
    SECURE_HSTS_INCLUDE_SUBDOMAINS = True
    SECURE_HSTS_PRELOAD = True
    # The prefix makes a browser refuse the cookie from anywhere but this very host, over HTTPS.
    SESSION_COOKIE_NAME, SESSION_COOKIE_SECURE = "__Host-sessionid", True
    CSRF_COOKIE_NAME, CSRF_COOKIE_SECURE = "__Host-csrftoken", True

# The hash is that of an empty style element, which the chart library adds and then fills from its script.
EMPTY_STYLE_HASH = "'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF, EMPTY_STYLE_HASH],
        "img-src": [SELF, "data:"],
        "font-src": [SELF],
        "connect-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "object-src": [NONE],
        "frame-ancestors": [NONE],
    },
}

LOGGING = logging_as(env.str("LOGS", default="json"), in_full=DEBUG)
DJANGO_STRUCTLOG_IP_LOGGING_ENABLED = False
DJANGO_STRUCTLOG_STATUS_4XX_LOG_LEVEL = INFO
