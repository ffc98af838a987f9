"""Timing whole processes in turn, so that a machine whose speed drifts does not favour one of them."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Claim:
    """One claim: what is compared, the measured ratio, and the most it may be (or the least, for a gain)."""

    name: str
    ratio: float
    limit: float
    least: bool = False
    note: str = ""

    @property
    def holds(self) -> bool:
        """Whether the measured ratio is within its limit."""
        return self.ratio >= self.limit if self.least else self.ratio <= self.limit

    def row(self) -> str:
        """One row of the table."""
        sign = ">=" if self.least else "<="
        verdict = "yes" if self.holds else "NO"
        return f"| {self.name} | {self.ratio:.2f} | {sign} {self.limit:g} | {verdict} | {self.note} |"


def seconds(command: Sequence[str]) -> float:
    """Wall time of one run of the interpreter on a script, output thrown away."""
    start = time.perf_counter()
    subprocess.run([sys.executable, *command], check=False, capture_output=True, env=_environment())
    return time.perf_counter() - start


def _environment() -> dict[str, str]:
    """This process's environment, byte code kept: libraries come with theirs, ours is written in the first turn."""
    return {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}


def in_turn(*commands: Sequence[str], runs: int = 7) -> list[float]:
    """Median wall time of each command, all run in turn; the first turn warms the disk and does not count."""
    turns = [[seconds(command) for command in commands] for _ in range(runs + 1)][1:]
    return [statistics.median(times) for times in zip(*turns, strict=True)]


def shortest_in_turn(jobs: Sequence[Callable[[], object]], runs: int) -> list[float]:
    """Shortest time of each job in this process, seconds, all run in turn after one turn that does not count."""
    turns = [[_own_seconds(job) for job in jobs] for _ in range(runs + 1)][1:]
    return [min(times) for times in zip(*turns, strict=True)]


def _own_seconds(job: Callable[[], object]) -> float:
    start = time.perf_counter()
    job()
    return time.perf_counter() - start
