"""Contenders timed in turns, so that what else the machine does falls on all of them alike."""

from __future__ import annotations

import gc
import statistics
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field


@dataclass
class Times:
    """Seconds of each round, by the clock on the wall and of this process alone."""

    wall: list[float] = field(default_factory=list)
    process: list[float] = field(default_factory=list)

    def add(self, work: Callable[[], object]) -> None:
        started, started_process = time.perf_counter(), time.process_time()
        work()
        self.wall.append(time.perf_counter() - started)
        self.process.append(time.process_time() - started_process)

    @property
    def median(self) -> float:
        return statistics.median(self.wall)

    @property
    def process_median(self) -> float:
        return statistics.median(self.process)

    @property
    def spread(self) -> str:
        """Milliseconds of the fastest and the slowest round."""
        return f"{milliseconds(min(self.wall))} - {milliseconds(max(self.wall))}"


def milliseconds(seconds: float) -> str:
    """With as many digits as say something."""
    digits = 0 if seconds >= 0.1 else 1 if seconds >= 0.001 else 2
    return f"{1e3 * seconds:.{digits}f}"


def time_in_turns(contenders: Mapping[str, Callable[[], object]], rounds: int, calls: int = 1) -> dict[str, Times]:
    """Each contender once a round, after one round that does not count; `calls` a round for what takes no time."""
    times = {name: Times() for name in contenders}
    for number in range(rounds + 1):
        for name, work in contenders.items():
            gc.collect()
            measured = times[name] if number else Times()
            measured.add(work if calls == 1 else _repeated(work, calls))
    return {name: _a_call(measured, calls) for name, measured in times.items()}


def _repeated(work: Callable[[], object], calls: int) -> Callable[[], object]:
    return lambda: [work() for _ in range(calls)]


def _a_call(times: Times, calls: int) -> Times:
    return Times([seconds / calls for seconds in times.wall], [seconds / calls for seconds in times.process])
