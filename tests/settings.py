"""The product's settings, with cheap password hashing."""

from coaching.settings import *  # noqa: F403

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
