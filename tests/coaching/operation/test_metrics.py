"""What the desk counts is for whoever runs it: on this machine, or with the token; and only if it was asked for."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from urllib.request import Request, urlopen

import pytest
from django.core.exceptions import ImproperlyConfigured
from django.test import Client as Browser
from django.test import override_settings

from coaching.operation.metrics import counted
from tests.coaching.accounts.served import Visitor, manage, served
from tests.repository import ROOT

TOKEN = "0123456789abcdefghijklmnopqrstuv"
# A desk that counts, asked once as itself: its own process, since counting begins with the settings.
COUNTING = """
import django
django.setup()
from django.core.management import call_command
from django.test import Client
call_command("migrate", verbosity=0)
Client().get("/sign-in/?next=/clients/quillwort/", headers={"host": "localhost"})
print(Client().get("/metrics", headers={"host": "localhost"}).content.decode())
"""


def status(**headers: str) -> int:
    return Browser().get("/metrics", headers=headers).status_code


def test_there_are_none_unless_they_were_asked_for() -> None:
    """ASVS 5.0 13.4.5"""
    assert status() == 404


@override_settings(METRICS=True)
def test_somebody_on_this_machine_reads_them() -> None:
    assert status() == 200


@override_settings(METRICS=True)
@pytest.mark.parametrize("sign", ["Forwarded", "X-Forwarded-For", "X-Forwarded-Proto", "X-Real-IP"])
def test_whoever_comes_through_a_proxy_is_not_on_this_machine(sign: str) -> None:
    assert status(**{sign: "127.0.0.1"}) == 404


@override_settings(METRICS=True, HTTPS=True)
def test_behind_a_proxy_nobody_is() -> None:
    assert status() == 404


@override_settings(METRICS=True)
def test_another_machine_does_not_read_them() -> None:
    assert Browser(REMOTE_ADDR="192.0.2.7").get("/metrics").status_code == 404


@override_settings(METRICS=True, METRICS_TOKEN=TOKEN)
def test_with_a_token_only_the_token_counts() -> None:
    assert status() == 404
    assert status(authorization=f"Bearer {TOKEN[:-1]}w") == 404
    assert status(authorization=f"Bearer {TOKEN}", **{"X-Forwarded-For": "192.0.2.7"}) == 200


def test_a_token_that_can_be_guessed_is_refused() -> None:
    with pytest.raises(ImproperlyConfigured, match="METRICS_TOKEN is too short"):
        counted([], wanted=True, token="short")


def test_requests_are_counted_by_the_name_of_their_page(tmp_path: Path) -> None:
    environment = {
        "PATH": os.environ["PATH"], "MUSTER_HOME": str(tmp_path), "METRICS": "1",
        "DJANGO_SETTINGS_MODULE": "coaching.settings",
    }  # fmt: skip
    ran = subprocess.run(
        [sys.executable, "-c", COUNTING], cwd=ROOT, env=environment, capture_output=True, text=True, check=True
    )

    assert 'status="200",view="account_login"} 1.0' in ran.stdout
    assert "quillwort" not in ran.stdout


def test_processes_that_share_a_folder_tell_one_sum(tmp_path: Path) -> None:
    shared = tmp_path / "counts"
    shared.mkdir()
    manage(tmp_path, "migrate")

    with served(tmp_path, 2, METRICS="1", METRICS_TOKEN=TOKEN, PROMETHEUS_MULTIPROC_DIR=str(shared)) as addresses:
        for address in [addresses[0]] * 3 + [addresses[1]] * 2:
            Visitor("10.0.0.7").get(f"{address}/sign-in/")
        told = [_metrics_at(address) for address in addresses]

    assert [text.count('status="200",view="account_login"} 5.0') for text in told] == [1, 1]


def _metrics_at(address: str) -> str:
    with urlopen(Request(f"{address}/metrics", headers={"Authorization": f"Bearer {TOKEN}"}), timeout=60) as answer:
        return str(answer.read().decode())
