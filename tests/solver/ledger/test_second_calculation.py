"""Lines drawn at random, calculated once more from handbooks by modules that use nothing of the solver."""

from __future__ import annotations

import ast
from contextlib import suppress
from pathlib import Path

import pytest

from solver.layout import file
from solver.ledger.solve import solve
from solver.network.build import NetworkError
from tests.solver.ledger.drawn_by_chance import Line

NEAR = 1e-5
"""Of the budget, the losses or 20 kPa, whichever is the most; a difference of 0.1 % would be looked at."""


def drawn(seed: int) -> Line | None:
    """A line; none where a bore of it is past the table of sizes."""
    try:
        return Line(seed)
    except ValueError:
        return None


def differences(line: Line) -> dict[str, float]:
    """By how much the program's figures are off, as shares of what there is and what is lost."""
    pump = solve(file.parse(line.text, f"line {line.seed}").base).pumps["pump"]
    scale = max(abs(line.budget), line.losses, 20e3)
    weight = line.density * 9.80665
    ours = {
        "atmosphere": pump.atmosphere - line.atmosphere,
        "floor": pump.floor - line.floor,
        "budget": pump.budget - line.budget,
        "losses": sum(e.loss for e in pump.entries if e.kind != "port") - line.losses,
        "inlet": pump.inlet - line.inlet,
        "margin": pump.margin - line.margin,
        "NPSH available": (pump.npsh_available - line.npsh_available) * weight,
    }
    return {name: each / scale for name, each in ours.items() if abs(each) > NEAR * scale}


def check(seeds: range) -> None:
    calculated = 0
    for line in filter(None, map(drawn, seeds)):
        with suppress(NetworkError):  # a bend that is drawn where there is no room for it
            off = differences(line)
            assert off == {}, (line.seed, off, line.taken)
            calculated += 1
    assert calculated > 0.9 * len(seeds)


def test_random_lines_are_those_of_a_second_calculation() -> None:
    check(range(25))


@pytest.mark.random
def test_a_thousand_random_lines_are_those_of_a_second_calculation() -> None:
    check(range(1000, 2000))


def test_the_second_calculation_uses_nothing_of_the_program() -> None:
    for name in ("handbook.py", "drawn_by_chance.py"):
        syntax = ast.parse((Path(__file__).parent / name).read_text("utf-8"))
        imported = [
            node.module or "" if isinstance(node, ast.ImportFrom) else node.names[0].name
            for node in ast.walk(syntax)
            if isinstance(node, ast.Import | ast.ImportFrom)
        ]
        assert not [each for each in imported if each.startswith(("solver", "sketch"))]


def test_a_difference_is_seen() -> None:
    line = Line(0)
    name, loss = line.taken[0]
    line.taken[0] = name, loss + 1e-4 * max(abs(line.budget), line.losses, 20e3)
    assert {"losses", "inlet", "margin"} <= differences(line).keys()
