import gc
import os
import sys

from django.core.exceptions import ImproperlyConfigured
from django.core.handlers.wsgi import WSGIHandler
from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "coaching.settings")


def refuse_databases_out_of_order() -> None:
    """Better no desk than one that forgets, or that is built on what is left of a file."""
    from django.db import connections

    from coaching.databases.starting import refuse_out_of_order

    for connection in connections.all():
        refuse_out_of_order(connection)


def refuse_old_static_files() -> None:
    from django.conf import settings

    from coaching.operation.static_files import files_below, refuse_uncollected

    refuse_uncollected(settings.STATIC_ROOT, files_below([settings.BASE_DIR / "coaching" / "static"]))


def start() -> WSGIHandler:
    """Whoever reads the log finds why there is no desk in one line, not below a page of places in the code."""
    try:
        # First, for what serves the files would complain at length.
        refuse_old_static_files()
        made = get_wsgi_application()
        refuse_databases_out_of_order()
    except ImproperlyConfigured as refused:
        sys.exit(f"Muster is not served: {' '.join(str(refused).split())}")
    return made


application = start()
# What is loaded by now stays for good: a page that makes thousands of marks need not have it looked through each time.
gc.collect()
gc.freeze()
