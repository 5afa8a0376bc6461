"""What was measured as one table, in words and Markdown."""

from __future__ import annotations

import os
import platform
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from importlib.metadata import version
from pathlib import Path

from tests.bench.timing import Times, milliseconds
from tests.repository import ROOT

HEAD = ["work", "who", "median ms", "fastest - slowest ms", "process ms", "ratio", "goal", "held"]
PACKAGES = ("numpy", "pandas", "polars", "duckdb", "django")


@dataclass(frozen=True)
class Line:
    """One contender at one work; `ratio` is to what `goal` names."""

    work: str
    who: str
    times: Times
    ratio: float | None = None
    goal: str = ""
    # The greatest value that the goal allows, of the ratio or else of the median in milliseconds.
    most: float | None = None
    least: float | None = None

    def cells(self) -> list[str]:
        median_ms = 1e3 * self.times.median
        value = self.ratio if self.ratio is not None else median_ms
        is_held = (self.most is None or value <= self.most) and (self.least is None or value >= self.least)
        has_goal = self.most is not None or self.least is not None
        return [
            self.work, self.who, milliseconds(self.times.median), self.times.spread,
            milliseconds(self.times.process_median),
            "" if self.ratio is None else f"{self.ratio:.2f}", self.goal,
            ("yes" if is_held else "NO") if has_goal else "",
        ]


def machine() -> str:
    """Whatever could explain why another machine measures something else."""
    model = next(
        (line.split(":")[1].strip() for line in Path("/proc/cpuinfo").read_text().splitlines() if "model name" in line),
        platform.processor(),
    )
    load = ", ".join(f"{amount:.1f}" for amount in os.getloadavg())
    versions = ", ".join(f"{package} {version(package)}" for package in PACKAGES)
    return f"{os.cpu_count()} x {model}, load {load}; Python {platform.python_version()}, {versions}"


def as_markdown(lines: Iterable[Line], sizes: Iterable[str], on: date) -> str:
    rows = [HEAD, ["---"] * len(HEAD), *(line.cells() for line in lines)]
    table = "\n".join(f"| {' | '.join(cells)} |" for cells in rows)
    told = "\n".join(f"* {size}" for size in sizes)
    return (
        f"# Measured on {on}\n\n{machine()}\n\nWritten by `python -m tests.bench`. Contenders of one work took turns "
        f"in one process; a ratio is one of medians by the clock on the wall.\n\n{told}\n\n{table}\n"
    )


def keep(text: str, on: date) -> Path:
    folder = ROOT / "fixtures" / "bench"
    folder.mkdir(exist_ok=True)
    path = folder / f"{on}.md"
    path.write_text(text, encoding="utf-8")
    return path
