"""What was kept is shown without what composes, sets and writes packs: a desk that only shows stays small."""

from __future__ import annotations

import os
import subprocess
import sys

HEAVY = {"pandas", "numpy", "scipy", "plotly", "openpyxl", "typst", "xlsxwriter"}
PROGRAM = f"""
import sys
import django
django.setup()
from django.conf import settings
from django.core.management import call_command
from django.test import Client as Browser
call_command("migrate", verbosity=0)
settings.ALLOWED_HOSTS = ["testserver"]
from tests.coaching.desk.packs import kept
from tests.coaching.factories import ClientFactory
client = ClientFactory()
kept(client, client.lead)
browser = Browser()
browser.force_login(client.lead)
addresses = [f"/clients/{{client.public_id}}/pack/?month=2026-03&paper={{paper}}" for paper in ("mine", "theirs")]
answers = [browser.get(address) for address in addresses]
print([answer.status_code for answer in answers], sorted({HEAVY!r} & sys.modules.keys()))
"""


def test_a_kept_pack_is_shown_without_what_composes_and_sets_packs() -> None:
    environment = {"DATABASE_URL": "sqlite://:memory:", "DJANGO_SETTINGS_MODULE": "tests.settings"}

    shown = subprocess.run(
        [sys.executable, "-c", PROGRAM], capture_output=True, text=True, check=False, env={**os.environ, **environment}
    )

    assert shown.stdout.strip() == "[200, 200] []", shown.stderr[-2000:]
