"""The product's own settings, and beside its addresses one for each way in which a page can fail."""

from coaching.settings import *  # noqa: F403

ROOT_URLCONF = "tests.browser.failing"
