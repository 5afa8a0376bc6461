from __future__ import annotations

import subprocess
import sys

HEAVY = {"pandas", "numpy", "scipy", "plotly", "openpyxl", "typst", "xlsxwriter"}
PROGRAM = f"""
import sys
import django
django.setup()
import coaching.urls
print(sorted({HEAVY!r} & sys.modules.keys()))
"""


def test_pages_start_without_what_only_calculations_and_charts_need() -> None:
    started = subprocess.run([sys.executable, "-c", PROGRAM], capture_output=True, text=True, check=True)

    assert started.stdout.strip() == "[]"
