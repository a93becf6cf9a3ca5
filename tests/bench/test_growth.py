"""The cost of a part does not grow with their number: reading, solving, checking and the report."""

from __future__ import annotations

from time import perf_counter

import pytest

from solver.findings.checks import check
from solver.findings.judgement import alone
from solver.layout import file
from solver.ledger.solve import solve
from solver.report import text as report
from tests.bench.clock import tell

pytestmark = pytest.mark.bench

PARTS = (500, 2000, 10_000)
PER_PUMP = 5
ALLOWED = 1.5
HEAD = """format = 1
title = "Many pumps over one tank"
units = "SI"
[site]
elevation = "0 m"
[fluid]
name = "Mineral oil, ISO VG 46"
temperature = "45 degC"
[reservoirs.tank]
outline = [["0 m", "0 m"], ["{wide} m", "0 m"], ["{wide} m", "1 m"], ["0 m", "1 m"]]
depth = "1 m"
normal_level = "0.8 m"
minimum_level = "0.6 m"
"""
PUMP = """
[intakes.i{n}]
reservoir = "tank"
at = ["{x} m", "0.2 m"]
kind = "plain end"
bore = "50 mm"
[fittings.v{n}]
at = ["{x} m", "1.2 m"]
kind = "ball valve"
bore = "50 mm"
[runs.a{n}]
from = "i{n}"
to = "v{n}"
bore = "50 mm"
roughness = "0.05 mm"
[runs.b{n}]
from = "v{n}"
to = "p{n}"
bore = "50 mm"
roughness = "0.05 mm"
[pumps.p{n}]
at = ["{x} m", "1.6 m"]
bore = "50 mm"
type = "gear"
flow = "60 L/min"
limit = {{ pressure = "0.8 bar" }}
"""


def drawing(parts: int) -> str:
    """So many parts: pumps side by side, each with a line of its own."""
    pumps = parts // PER_PUMP
    return HEAD.format(wide=pumps + 2) + "".join(PUMP.format(n=n, x=n + 1) for n in range(pumps))


def spent(parts: int) -> float:
    """Seconds a part from text to report, the better of two."""
    text, times = drawing(parts), []
    for _ in range(2):
        begun = perf_counter()
        solution = solve(file.parse(text).base)
        printed = report.report(alone(solution, check(solution)))
        times.append(perf_counter() - begun)
        assert f"p{parts // PER_PUMP - 1}: " in printed
    return min(times) / parts


def test_a_part_costs_as_much_among_ten_thousand_as_among_five_hundred() -> None:
    spent(100)  # the imports of first use
    costs = [spent(parts) for parts in PARTS]
    for parts, cost in zip(PARTS, costs, strict=True):
        tell(f"a part of {parts}, against one of {PARTS[0]}", cost / costs[0], "", ALLOWED)
    assert max(costs) / min(costs) < ALLOWED
