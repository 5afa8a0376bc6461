import gc
import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "coaching.settings")


def refuse_databases_that_lose() -> None:
    """Opening a connection asks the database how it writes: better no desk than one that forgets."""
    from django.db import connections

    for connection in connections.all():
        connection.ensure_connection()
        connection.close()


application = get_wsgi_application()
refuse_databases_that_lose()
# What is loaded by now stays for good: a page that makes thousands of marks need not have it looked through each time.
gc.collect()
gc.freeze()
