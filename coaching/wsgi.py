import gc
import os

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

    refuse_uncollected(settings.STATIC_ROOT, files_below(settings.STATICFILES_DIRS))


application = get_wsgi_application()
refuse_databases_out_of_order()
refuse_old_static_files()
# What is loaded by now stays for good: a page that makes thousands of marks need not have it looked through each time.
gc.collect()
gc.freeze()
