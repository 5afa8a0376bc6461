"""The product's settings, with less patience for a lock than its 20 s: nobody wants to wait for that in a test."""

from coaching.settings import *  # noqa: F403
from coaching.settings import DATABASES as PATIENT

PATIENCE_S = 2
# A new one: to change the product's would change it for every test that runs beside.
DATABASES = {"default": PATIENT["default"] | {"OPTIONS": PATIENT["default"]["OPTIONS"] | {"timeout": PATIENCE_S}}}
