"""The product's settings, with less patience for a lock than its 20 s: nobody wants to wait for that in a test."""

from coaching.settings import *  # noqa: F403
from coaching.settings import DATABASES

PATIENCE_S = 2
DATABASES["default"]["OPTIONS"] = DATABASES["default"]["OPTIONS"] | {"timeout": PATIENCE_S}
