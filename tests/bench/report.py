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

HEAD = ["work", "who", "median ms", "fastest - slowest ms", "process ms", "ratio", "by process", "goal", "held"]
_HOW = (
    "Written by `python -m tests.bench`. Contenders of one work took turns in one process. A ratio is one of medians, "
    "by the clock on the wall and by the time that the process had; what else the machine does falls on the first, and "
    "more on an engine of one thread than on one of two. Goals are held or not by the clock on the wall."
)
PACKAGES = ("numpy", "pandas", "polars", "duckdb", "django")


@dataclass(frozen=True)
class Line:
    """One contender at one work; with `beside`, its ratio to another one's times, which `goal` names."""

    work: str
    who: str
    times: Times
    beside: Times | None = None
    goal: str = ""
    # The greatest value that the goal allows, of the ratio or else of the median in milliseconds.
    most: float | None = None
    # The least, of a ratio of throughputs: how much of the other one's work is done in the same time.
    least: float | None = None
    is_throughput: bool = False

    def cells(self) -> list[str]:
        ratio, by_process = self._ratios()
        return [
            self.work, self.who, milliseconds(self.times.median), self.times.spread,
            milliseconds(self.times.process_median), ratio and f"{ratio:.2f}", by_process and f"{by_process:.2f}",
            self.goal, self._held(ratio or 1e3 * self.times.median),
        ]

    def _ratios(self) -> tuple[float, float] | tuple[str, str]:
        """By the clock on the wall, and by the time that the process had."""
        if self.beside is None:
            return "", ""
        ratios = self.times.median / self.beside.median, self.times.process_median / self.beside.process_median
        return (1 / ratios[0], 1 / ratios[1]) if self.is_throughput else ratios

    def _held(self, value: float) -> str:
        if self.most is None and self.least is None:
            return ""
        is_held = (self.most is None or value <= self.most) and (self.least is None or value >= self.least)
        return "yes" if is_held else "NO"


def machine() -> str:
    """Whatever could explain why another machine measures something else."""
    model = next(
        (line.split(":")[1].strip() for line in Path("/proc/cpuinfo").read_text().splitlines() if "model name" in line),
        platform.processor(),
    )
    load = ", ".join(f"{amount:.1f}" for amount in os.getloadavg())
    versions = ", ".join(f"{package} {version(package)}" for package in PACKAGES)
    return f"{os.cpu_count()} x {model}, load {load}; Python {platform.python_version()}, {versions}"


def section(part: str, lines: Iterable[Line], told: str) -> str:
    """What was measured of one part, with the machine as it was when that was done."""
    rows = [HEAD, ["---"] * len(HEAD), *(line.cells() for line in lines)]
    table = "\n".join(f"| {' | '.join(cells)} |" for cells in rows)
    return f"## {part.capitalize()}\n\n{told}\n\n{machine()}\n\n{table}\n"


def keep(sections: Iterable[str], on: date) -> Path:
    """In the day's file, in the place of the same parts if they were measured on that day before."""
    folder = ROOT / "fixtures" / "bench"
    folder.mkdir(exist_ok=True)
    path = folder / f"{on}.md"
    before = path.read_text(encoding="utf-8").split("\n## ")[1:] if path.exists() else []
    by_part = {_part_of(text): text for text in [*(f"## {text}" for text in before), *sections]}
    head = f"# Measured on {on}\n\n{_HOW}\n"
    path.write_text("\n".join([head, *(text.strip() + "\n" for text in by_part.values())]), encoding="utf-8")
    return path


def _part_of(text: str) -> str:
    return text.splitlines()[0]
