"""Collected files have names that change with them, so that browsers keep them for good; pages are never kept."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.exceptions import ImproperlyConfigured

from coaching.operation.static_files import refuse_uncollected
from tests.repository import ROOT

FETCHING = """
import django
django.setup()
import re
from django.core.management import call_command
from django.test import Client
from coaching.wsgi import application
call_command("migrate", verbosity=0)
browser = Client(headers={"host": "localhost"})
page = browser.get("/sign-in/")
print("page", page.headers["Cache-Control"])
for address in re.findall(r'(?:href|src)="(/static/[^"]+)"', page.content.decode()):
    file = browser.get(address, headers={"accept-encoding": "gzip"})
    print(address, file.status_code, file.headers.get("Content-Encoding"), file.headers["Cache-Control"])
    assert "Access-Control-Allow-Origin" not in file.headers
    file.close()
"""
HASHED = re.compile(r"/static/[\w/-]+\.[0-9a-f]{12}\.\w+")


def run(tmp_path: Path, *command: str) -> subprocess.CompletedProcess[str]:
    environment = {
        "PATH": os.environ["PATH"], "MUSTER_HOME": str(tmp_path), "STATIC_ROOT": str(tmp_path / "static"),
        "DJANGO_SETTINGS_MODULE": "coaching.settings",
    }  # fmt: skip
    return subprocess.run([sys.executable, *command], cwd=ROOT, env=environment, capture_output=True, text=True)


def test_collected_files_are_served_compressed_under_names_of_their_content(tmp_path: Path) -> None:
    collected = run(tmp_path, "manage.py", "collectstatic", "--no-input")
    fetched = run(tmp_path, "-c", FETCHING)

    assert (collected.returncode, fetched.returncode) == (0, 0), collected.stderr + fetched.stderr
    page, *files = fetched.stdout.splitlines()
    assert "no-store" in page
    assert len(files) > 2
    for line in files:
        address, *told = line.split(" ", 3)
        assert HASHED.fullmatch(address)
        assert told[0] == "200"
        assert told[2] == "max-age=315360000, public, immutable"
    assert any(" gzip " in line for line in files)


def test_a_desk_whose_files_were_not_collected_does_not_start(tmp_path: Path) -> None:
    ran = run(tmp_path, "-c", "import coaching.wsgi")

    assert ran.returncode != 0
    assert "STATIC_ROOT holds no collected files: run `python manage.py collectstatic --no-input`" in ran.stderr
    assert ran.stderr.count("\n") == 1


def test_each_file_is_collected_from_one_place(tmp_path: Path) -> None:
    ran = run(tmp_path, "manage.py", "collectstatic", "--no-input")

    assert "Found another file" not in ran.stdout + ran.stderr


def test_files_changed_since_they_were_collected_are_refused(tmp_path: Path) -> None:
    manifest, source = tmp_path / "staticfiles.json", tmp_path / "base.css"
    manifest.write_text("{}")
    source.write_text("new")
    os.utime(manifest, (1, 1))

    with pytest.raises(ImproperlyConfigured, match="files were changed since they were collected"):
        refuse_uncollected(str(tmp_path), iter([source]))


def test_where_nothing_is_collected_nothing_is_asked_for(tmp_path: Path) -> None:
    refuse_uncollected(None, iter([tmp_path / "not there"]))
