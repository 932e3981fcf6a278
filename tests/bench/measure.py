"""Timing two things side by side: they take turns in one run, so that a busy machine slows both."""

from __future__ import annotations

import resource
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path


def process_seconds(command: Sequence[str], cwd: str | None = None) -> float:
    """Processor seconds (user and system) of one whole process and its children."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(command, cwd=cwd, check=False, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def wall_seconds(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def ratio(name: str, ours: Callable[[], float], bare: Callable[[], float], runs: int, limit: float) -> float:
    """Runs both in turn, prints each one's median and the median of the ratios, and returns that."""
    pairs = [(ours(), bare()) for _ in range(runs + 1)][1:]  # the first warms the disk's cache
    a, b = (statistics.median(x) for x in zip(*pairs, strict=True))
    ratios = sorted(x / y for x, y in pairs)
    middle = statistics.median(ratios)
    print(
        f"{name}: {a * 1000:.0f} ms against {b * 1000:.0f} ms bare, ratio {middle:.2f} "
        f"({ratios[0]:.2f} to {ratios[-1]:.2f}); aim: under {limit:g}"
    )
    return middle


def levelcup(*words: str) -> list[str]:
    """The installed command, as a shell would start it."""
    script = Path(sys.executable).with_name("levelcup")
    return [str(script), *words] if script.exists() else [sys.executable, "-m", "pipeline.cli", *words]
