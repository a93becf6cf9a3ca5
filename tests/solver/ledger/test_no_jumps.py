"""No margin jumps, and none goes the wrong way: figures of random lines turned through their whole range.

Wherever two neighbours differ by more than 0.1 % of the budget, the way between them is halved until the step
is tiny; what is left of the difference is a jump. All is passed that has a limit: Re 2000, 2500, 3000, 4000
and 5000, bores that become alike, the level at the port, a split of which one side comes to rest.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from solver.layout import file
from solver.layout.parts import Layout
from solver.ledger.solve import PumpLedger, solve
from solver.network.build import NetworkError
from solver.quantities.units import Quantity
from tests.solver.ledger.test_second_calculation import drawn

Turn = Callable[[Layout, float], Layout]
HALVINGS = 40


def si(value: float) -> Quantity:
    return Quantity(f"{value!r}", value)


def of_pump(key: str, name: str = "pump") -> Turn:
    """A figure of a pump times a factor."""

    def turn(layout: Layout, factor: float) -> Layout:
        pump = layout.pumps[name]
        turned = replace(pump, **{key: si(getattr(pump, key).si * factor)})
        return replace(layout, pumps={**layout.pumps, name: turned})

    return turn


def thicker(layout: Layout, factor: float) -> Layout:
    return replace(layout, fluid=replace(layout.fluid, viscosity=si(46e-6 * factor)))


def higher(layout: Layout, elevation: float) -> Layout:
    return replace(layout, site=replace(layout.site, elevation=si(elevation)))


def fluid_level(layout: Layout, elevation: float) -> Layout:
    tank = replace(layout.reservoirs["tank"], minimum_level=si(elevation))
    return replace(layout, reservoirs={"tank": tank})


def blocked(layout: Layout, share: float) -> Layout:
    mouth = layout.intakes["mouth"]
    assert mouth.screen is not None
    return replace(layout, intakes={"mouth": replace(mouth, screen=replace(mouth.screen, blocked=share))})


def longer(layout: Layout, length: float) -> Layout:
    run = replace(layout.runs["to_pump"], out_of_plane=si(length))
    return replace(layout, runs={**layout.runs, "to_pump": run})


def port_height(layout: Layout, elevation: float) -> Layout:
    pump = layout.pumps["pump"]
    return replace(layout, pumps={**layout.pumps, "pump": replace(pump, at=(pump.at[0], si(elevation)))})


def fitting_bore(layout: Layout, factor: float) -> Layout:
    one = layout.fittings["f0"]
    assert one.bore is not None
    return replace(layout, fittings={**layout.fittings, "f0": replace(one, bore=si(one.bore.si * factor))})


NO_WAY, LESS, MORE = 0, -1, 1
"""Where a margin goes as a figure rises: either way by the physics, or one. A thicker fluid helps where flow
turns laminar, a wider port loses less velocity and more in widening, a higher one may shorten its line."""

TURNS: dict[str, tuple[Turn, np.ndarray, int]] = {
    "speed": (of_pump("speed"), np.geomspace(0.02, 2.5, 50), LESS),
    "other pump": (of_pump("flow", "other"), np.geomspace(1e-8, 30.0, 60), NO_WAY),
    "viscosity": (thicker, np.geomspace(0.02, 20.0, 60), NO_WAY),
    "elevation": (higher, np.linspace(-500.0, 9000.0, 20), LESS),
    "fluid level": (fluid_level, np.linspace(0.12, 0.48, 25), MORE),
    "blocked": (blocked, np.linspace(0.0, 0.97, 25), LESS),
    "length": (longer, np.linspace(0.0, 20.0, 8), LESS),
    "port height": (port_height, np.linspace(-0.3, 2.5, 25), NO_WAY),
    "port bore": (of_pump("bore"), np.linspace(0.6, 1.4, 60), NO_WAY),
    "bore of a fitting": (fitting_bore, np.linspace(0.6, 1.4, 60), NO_WAY),
}


def ledger(layout: Layout) -> PumpLedger | None:
    """Of the pump; none where the drawing has no room for its bends, or its level no fluid."""
    try:
        return solve(layout).pumps["pump"]
    except NetworkError:
        return None


def jump(layout: Layout, turn: Turn, low: float, high: float, enough: float) -> float:
    """What a margin still differs by at the steepest place between two values; 0 where it is not drawn."""
    ends = [(at, ledger(turn(layout, at))) for at in (low, high)]
    for _ in range(HALVINGS):
        (one, before), (two, after) = ends
        middle = (one + two) / 2
        between = ledger(turn(layout, middle))
        if before is None or after is None or between is None:
            return 0.0
        if abs(after.margin - before.margin) <= enough or middle in (one, two):
            break
        left = abs(between.margin - before.margin) > abs(after.margin - between.margin)
        ends = [ends[0], (middle, between)] if left else [(middle, between), ends[1]]
    return abs(ends[1][1].margin - ends[0][1].margin) if ends[0][1] and ends[1][1] else 0.0


def check(seed: int, name: str) -> None:
    line = drawn(seed)
    if line is None or line.losses > 200e3 or not has(name, line.text):
        return
    layout = file.parse(line.text, f"line {seed}").base
    turn, values, way = TURNS[name]
    ledgers = [(float(at), ledger(turn(layout, float(at)))) for at in values]
    solved = [(at, each) for at, each in ledgers if each is not None]
    for (one, before), (two, after) in pairwise(solved):
        enough = 1e-3 * max(abs(before.budget), before.budget - before.margin, 20e3)
        rise = after.margin - before.margin
        assert rise * way >= -1e-6 * enough, (seed, name, one, two, rise)
        if abs(rise) > enough:
            assert jump(layout, turn, one, two, enough) <= enough, (seed, name, one, two)


def has(name: str, text: str) -> bool:
    """Whether a line has what is turned."""
    if name == "other pump":
        return "[pumps.other]" in text
    if name == "viscosity":
        return '" cSt"' not in text
    if name == "port height":
        return "[tees" not in text  # which of its legs is the branch hangs on how they are drawn
    if name == "bore of a fitting":
        return "reducer" not in text
    return name != "blocked" or '"strainer"' in text


@pytest.mark.thorough
@pytest.mark.parametrize("name", TURNS)
def test_no_margin_of_a_few_random_lines_jumps_or_goes_the_wrong_way(name: str) -> None:
    for seed in range(20, 32):
        check(seed, name)


@pytest.mark.random
@pytest.mark.parametrize("name", TURNS)
def test_no_margin_of_fifty_random_lines_jumps_or_goes_the_wrong_way(name: str) -> None:
    for seed in range(2000, 2050):
        check(seed, name)


def test_a_jump_is_seen_and_a_slope_is_none() -> None:
    line = drawn(3)
    assert line is not None
    layout = file.parse(line.text, "line 3").base
    assert jump(layout, lambda drawn, at: higher(drawn, 0.0 if at < 1.23 else 50.0), 1.0, 2.0, 20.0) > 500.0
    assert jump(layout, higher, 0.0, 2000.0, 20.0) <= 20.0
