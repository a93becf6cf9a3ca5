"""Medians of interleaved repeats: the machine's moods fall on all candidates alike."""

from __future__ import annotations

import gc
from collections.abc import Callable
from statistics import median
from time import perf_counter


def medians(
    *candidates: Callable[[], object], repeats: int = 101, clock: Callable[[], float] = perf_counter
) -> list[float]:
    """Median time of each candidate [s], all run by turns, collection held off while the clock runs.

    clock: the processor's own where one candidate takes so long that a busy machine would interrupt it alone.
    """
    times: list[list[float]] = [[] for _ in candidates]
    for candidate in candidates:
        candidate()
    gc.collect()
    enabled = gc.isenabled()
    gc.disable()
    try:
        for _ in range(repeats):
            for run, spent in zip(candidates, times, strict=True):
                start = clock()
                run()
                spent.append(clock() - start)
    finally:
        if enabled:
            gc.enable()
    return [median(spent) for spent in times]


def tell(what: str, value: float, unit: str, allowed: float | None = None) -> None:
    limit = "" if allowed is None else f"   (at most {allowed:g})"
    print(f"{what:<64} {value:10.3f} {unit}{limit}")
