"""The cost of a part does not grow with their number: reading, solving, checking and the report."""

from __future__ import annotations

from collections.abc import Sequence
from time import process_time

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
    """Seconds of the processor's time from text to report, the best of three."""
    text, times = drawing(parts), []
    for _ in range(3):
        begun = process_time()
        solution = solve(file.parse(text).base)
        printed = report.report(alone(solution, check(solution)))
        times.append(process_time() - begun)
        assert f"p{parts // PER_PUMP - 1}: " in printed
    return min(times)


def compare_costs(what: str, seconds: Sequence[float]) -> None:
    """Hold the cost a part to the factor: in all, which a fixed cost lowers, and of each added part."""
    fewest, some, most = PARTS
    whole = [time / parts for time, parts in zip(seconds, PARTS, strict=True)]
    added = [(seconds[1] - seconds[0]) / (some - fewest), (seconds[2] - seconds[1]) / (most - some)]
    for parts, cost in zip(PARTS, whole, strict=True):
        tell(f"{what}: a part of {parts}, against one of {fewest}", cost / whole[0], "", ALLOWED)
    tell(f"{what}: a part added up to {most}, against one up to {some}", added[1] / added[0], "", ALLOWED)
    assert max(whole) / whole[0] < ALLOWED, what
    assert max(added) / min(added) < ALLOWED, what


def test_a_part_costs_as_much_among_ten_thousand_as_among_five_hundred() -> None:
    spent(100)  # the imports of first use
    compare_costs("the terminal", [spent(parts) for parts in PARTS])
