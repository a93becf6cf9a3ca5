"""Many variants of a line at once, against the plain scalar loop that would go through them one by one.

The loop has it easier than the sweep: whatever is varied, the fluid's state and every row's coefficients are
given to it.
"""

from __future__ import annotations

import functools
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from solver.answers import sweep
from solver.answers.sweep import Key
from solver.ledger import solve
from solver.network import build
from solver.properties import fluid
from tests import drawings
from tests.bench.clock import medians, tell
from tests.bench.test_solve import plain_loop

pytestmark = pytest.mark.bench

Inputs = dict[Key, np.typing.NDArray[np.float64]]

LOOPS = 200
"""Turns of the plain loop that are timed together."""


def running(count: int) -> Inputs:
    """What changes while a pump runs: nothing of the line itself."""
    draw = np.random.default_rng(1).uniform
    return {
        "temperature": draw(290.0, 350.0, count),
        "flow": draw(5e-4, 3e-3, count),
        "level": draw(0.6, 1.4, count),
        "elevation": draw(0.0, 2000.0, count),
    }


def everything(count: int, top: float) -> Inputs:
    """Every input that the line has, each variant unlike any other. top: the port's height [m]."""
    draw = np.random.default_rng(2).uniform
    line: Inputs = {
        "density": draw(800.0, 1000.0, count),
        "viscosity": draw(1e-6, 3e-4, count),
        "bore": draw(0.04, 0.062, count),
        "roughness": draw(1e-6, 1e-4, count),
        "blocked": draw(0.0, 0.9, count),
        "port height": draw(top - 0.1, top + 0.5, count),
    }
    return running(count) | line


def chosen(name: str, elements: int, count: int) -> Inputs:
    top = drawings.steps(elements).pumps["pump"].at[1].si
    every = everything(count, top)
    choices = {
        "what runs": tuple(running(1)),
        "one bore": ("bore",),
        "all but the bore": tuple(key for key in every if key != "bore"),
        "everything": tuple(every),
    }
    return {key: every[key] for key in choices[name]}


@pytest.mark.parametrize("name", ["what runs", "one bore", "all but the bore", "everything"])
def test_a_variant_against_the_plain_loop(name: str) -> None:
    base, count = drawings.steps(20), 100_000
    inputs = chosen(name, 20, count)
    built, state = build.build(base), fluid.state(base.fluid)

    def plain() -> None:
        for _ in range(LOOPS):
            plain_loop(built, state, 1e-3)

    ours, loop = medians(lambda: sweep.solve(base, inputs), plain, repeats=15)
    ours, loop = ours / count, loop / LOOPS
    print()
    tell(f"{len(built.rows)} rows, {name} varied: a variant", ours * 1e6, "µs")
    tell("plain scalar loop over the same rows", loop * 1e6, "µs")
    tell("times faster (at least 8)", loop / ours, "x")
    assert loop >= 8 * ours


def test_shares_against_the_sweep_without_them() -> None:
    base = drawings.steps(20)
    inputs = chosen("everything", 20, 50_000)
    with_shares, without = medians(
        lambda: sweep.solve(base, inputs, shares=True), lambda: sweep.solve(base, inputs), repeats=7
    )
    print()
    tell("shares of every row too", with_shares / without, "x")


MILLION = """
import sys
from solver.answers import sweep
from tests import drawings
from tests.bench import test_sweep
inputs = test_sweep.chosen(sys.argv[1], 20, int(sys.argv[2]))
swept = sweep.solve(drawings.steps(20), inputs)
assert swept.pumps["pump"].margin.size == int(sys.argv[2])
print(next(line.split()[1] for line in open("/proc/self/status") if line.startswith("VmHWM")))
"""


def memory(name: str, count: int) -> float:
    """Largest resident size of a process that does nothing but one sweep [MB]."""
    command = [sys.executable, "-c", MILLION, name, str(count)]
    return int(subprocess.run(command, capture_output=True, text=True, check=True).stdout) / 1024


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="the peak is read as Linux tells it")
@pytest.mark.parametrize("name", ["what runs", "everything"])
def test_memory_of_a_million_variants(name: str) -> None:
    """Arrays given and returned included."""
    few, many = memory(name, 10_000), memory(name, 1_000_000)
    arrays = (len(chosen(name, 20, 1)) + len(sweep.FIGURES)) * 8e6 / 2**20
    print()
    tell(f"{name} varied: a million variants", many, "MB", 500)
    tell("  of it more than for ten thousand", many - few, "MB")
    tell("  arrays given and returned", arrays, "MB")
    assert many < 500


def row_costs(name: str, cells: int, fewest: int) -> list[float]:
    """Time for a row of a variant [s], from 10 to 10 000 elements."""
    print()
    costs = []
    for elements in (10, 100, 1_000, 10_000):
        base = drawings.steps(elements)
        rows = len(build.build(base).rows)
        count = max(cells // rows, fewest)
        inputs = chosen(name, elements, count)
        (solved,) = medians(functools.partial(sweep.solve, base, inputs), repeats=3)
        costs.append(solved / rows / count)
        tell(f"{rows} rows, {name} varied: a row of a variant", costs[-1] * 1e9, "ns")
    return costs


def test_cost_grows_no_faster_than_the_line() -> None:
    """So many variants that making the network once counts for little."""
    costs = row_costs("what runs", 4_000_000, 5_000)
    assert costs[-1] < 2 * costs[0]


def test_cost_where_every_variant_has_a_line_of_its_own() -> None:
    """The network is made anew for each piece of the sweep, and the pieces are smaller for a longer line."""
    costs = row_costs("one bore", 2_000_000, 200)
    twenty = drawings.steps(20)
    (single,) = medians(lambda: solve.solve(twenty), repeats=101)
    tell("one variant of 20 elements by itself, a row", single / 21 * 1e9, "ns")
    assert costs[-1] < single / 21
