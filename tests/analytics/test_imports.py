"""What is loaded with what: the meaning without framework and charts, the desk without the heavy libraries."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SET_UP = "import os; os.environ['DJANGO_SETTINGS_MODULE'] = 'tests.settings'; import django; django.setup(); "
EVERY_MODULE = (
    "import analytics, importlib, pkgutil; "
    "[importlib.import_module('analytics.' + one.name) for one in pkgutil.iter_modules(analytics.__path__)]; "
)


def loaded_by(code: str, home: Path) -> set[str]:
    """The top names of all modules that are loaded once `code` has run in a process of its own."""
    told = "import sys; print(*{name.partition('.')[0] for name in sys.modules})"
    environment = {**os.environ, "MUSTER_HOME": str(home)}
    run = subprocess.run(
        [sys.executable, "-c", code + told], cwd=ROOT, env=environment, capture_output=True, text=True, check=True
    )
    return set(run.stdout.split())


def test_the_meaning_loads_neither_the_framework_nor_the_charts(tmp_path: Path):
    loaded = loaded_by(EVERY_MODULE, tmp_path)

    assert {"analytics", "pandas", "numpy", "scipy"} <= loaded
    assert not loaded & {"django", "plotly", "coaching", "roster", "openpyxl"}


@pytest.mark.parametrize("module", ["coaching.urls", "coaching.wsgi"])
def test_the_desk_starts_without_the_heavy_libraries(module: str, tmp_path: Path):
    loaded = loaded_by(SET_UP + f"import {module}; ", tmp_path)

    assert {"django", "coaching"} <= loaded
    assert not loaded & {"pandas", "numpy", "scipy", "plotly", "openpyxl"}
