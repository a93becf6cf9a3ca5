"""All fixes of one pump, pairs and triples among them, against the plain scalar loop over the same rows."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from time import process_time

import pytest

from solver.fixes.fixes import advise
from solver.layout import file
from solver.layout.parts import Layout, Limit
from solver.ledger import solve
from solver.network import build as network
from solver.quantities.units import Kind, quantity
from tests import drawings
from tests.bench.clock import tell
from tests.bench.test_solve import plain_loop

pytestmark = pytest.mark.bench

A_SECOND = 33_000
"""Plain loops in a second, at 30 µs each."""

CASES = """
[cases."cold morning"]
fluid.temperature = "15 degC"

[cases."low-pressure day"]
site.weather_allowance = "4 kPa"
"""


def starved() -> Layout:
    """A line of twenty elements with three cases, so short of pressure that no single change is enough."""
    text = drawings.steps_text(20, flow="250 L/min").replace("format = 1", "format = 2")
    layout = file.parse(text + CASES).base
    little = Limit("vacuum", ((None, quantity("0.05 inHg", Kind.VACUUM)),))
    return replace(layout, pumps={"pump": replace(layout.pumps["pump"], limit=little)})


def seconds(run: Callable[[], object], times: int = 1) -> float:
    """Processor time of a run [s]: one that takes a quarter of a second is interrupted on a busy machine."""
    start = process_time()
    for _ in range(times):
        run()
    return (process_time() - start) / times


def test_all_fixes_of_a_pump_on_twenty_elements_in_three_cases() -> None:
    layout = starved()
    advice = advise(layout, "pump")
    assert len(advice.now.cases) == 3
    assert len(advice.fixes) >= 5
    assert advice.together
    built = network.build(layout)
    solved = solve.solve_network(built)
    flow = solved.pumps["pump"].flow
    ours = min(seconds(lambda: advise(layout, "pump")) for _ in range(5))
    plain = min(seconds(lambda: plain_loop(built, solved.fluid, flow), 200) for _ in range(5))
    print()
    tell(f"{len(advice.fixes)} fixes and {len(advice.together)} sets of them", ours * 1e3, "ms", 1000)
    tell("plain scalar loop over the same rows", plain * 1e6, "µs")
    tell("ratio", ours / plain, "x", A_SECOND)
    assert ours / plain <= A_SECOND
