"""The product's settings, with cheap password hashing and a database in memory, which the product itself refuses."""

from coaching.operation.logs import logging_as
from coaching.settings import *  # noqa: F403
from coaching.settings import DATABASES, IS_EMBEDDED

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
if IS_EMBEDDED:
    DATABASES["default"]["ENGINE"] = "django.db.backends.sqlite3"
LOGGING = logging_as("plain", in_full=True)
