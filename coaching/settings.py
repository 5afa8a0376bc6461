"""Settings: embedded by default (an SQLite file, no broker), the same code on PostgreSQL by `DATABASE_URL`."""

from pathlib import Path
from typing import Any

import environ
from csp.constants import NONE, SELF
from django.core.management.utils import get_random_secret_key

BASE_DIR = Path(__file__).resolve().parent.parent
# The embedded database, its key, and what the demo makes. MUSTER_HOME moves it.
env = environ.Env()
HOME_DIR = Path(env.str("MUSTER_HOME", default=str(BASE_DIR / "var")))


def _kept_secret_key() -> str:
    """A key made once and kept beside the embedded database, readable by its owner alone."""
    path = HOME_DIR / "secret_key"
    if not path.exists():
        HOME_DIR.mkdir(parents=True, exist_ok=True)
        path.touch(mode=0o600)
        path.write_text(get_random_secret_key())
    return path.read_text().strip()


DEBUG = env.bool("DEBUG", default=False)
SECRET_KEY = env.str("SECRET_KEY", default="") or _kept_secret_key()
ALLOWED_HOSTS = env.list("ALLOWED_HOSTS", default=["127.0.0.1", "localhost", "[::1]"])

INSTALLED_APPS = [
    "django.contrib.admin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "roster.people",
    "roster.blocks",
    "roster.logs",
    "coaching",
    "coaching.monitoring",
    "coaching.desk",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
]

ROOT_URLCONF = "coaching.urls"
WSGI_APPLICATION = "coaching.wsgi.application"
AUTH_USER_MODEL = "people.Coach"
LOGIN_URL = "sign_in"
LOGIN_REDIRECT_URL = "morning"
LOGOUT_REDIRECT_URL = "sign_in"

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
]

# WAL with synchronous=FULL is the setting that loses no acknowledged commit at a power cut;
# IMMEDIATE takes the write lock at the start, so that two writers wait instead of failing.
SQLITE_OPTIONS: dict[str, Any] = {
    "transaction_mode": "IMMEDIATE",
    "timeout": 20,
    "init_command": (
        "PRAGMA journal_mode=WAL;PRAGMA synchronous=FULL;PRAGMA mmap_size=134217728;"
        "PRAGMA cache_size=-16000;PRAGMA temp_store=MEMORY;"
    ),
}


def _database() -> dict[str, Any]:
    database: dict[str, Any] = env.db_url("DATABASE_URL", default=f"sqlite:///{HOME_DIR / 'muster.sqlite3'}")
    if database["ENGINE"] == "django.db.backends.sqlite3":
        HOME_DIR.mkdir(parents=True, exist_ok=True)
        database["OPTIONS"] = SQLITE_OPTIONS
    return database


DATABASES = {"default": _database()}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
FIXTURE_DIRS = [BASE_DIR / "fixtures"]

PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 12}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
]

LANGUAGE_CODE = "en-gb"
TIME_ZONE = "UTC"
USE_TZ = True
USE_I18N = False

STATIC_URL = "static/"
STATICFILES_DIRS = [BASE_DIR / "coaching" / "static"]
STATIC_ROOT = BASE_DIR / "static"
WHITENOISE_USE_FINDERS = True

SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_SAMESITE = "Lax"
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"

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
