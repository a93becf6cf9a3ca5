"""Checks of pumps that start, and of pumps that stand still, each from both sides of its limit."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.formulas import starting
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from solver.quantities.units import Quantity
from tests.drawings import drawing, fitting, intake, pump, run
from tests.solver.checking import HAIR, found, ledger, lifted, only, with_pump


def rising(seconds: float) -> Layout:
    return with_pump(lifted(), flow_rise=Quantity(f"{seconds!r} s", seconds))


def test_a_rise_that_a_pressure_wave_cannot_follow_is_too_quick() -> None:
    """Ten lengths at the speed of a pressure wave; common practice, no source."""
    (entry,) = (each for each in ledger(rising(1.0)).entries if each.element == "flow rise")
    shortest = starting.shortest.scalar(entry.length)
    one = only(rising(shortest - HAIR), "too quick for a rigid column")
    assert (one.severity, one.value, one.limit) == ("caution", shortest - HAIR, shortest)
    assert not found(rising(shortest + HAIR), "too quick for a rigid column")
    assert not found(lifted(), "too quick for a rigid column")


def still(foot: bool, height: float = 1.2) -> Layout:
    """Two lines of their own in one tank; the pump of the second is at rest."""
    kind = "foot valve" if foot else "plain end"
    layout = drawing(
        intake(),
        pump(at=(0.9, 1.2)),
        run("riser", "strainer", "pump"),
        intake("other mouth", (0.3, 0.12), kind=kind),
        fitting("valve", (0.3, 0.2)),
        pump("other", (0.3, height)),
        run("low", "other mouth", "valve"),
        run("high", "valve", "other"),
    )
    rests = replace(layout.pumps["other"], at_rest=True)
    return replace(layout, pumps={**layout.pumps, "other": rests})


def test_a_lifted_port_at_rest_takes_air_in_unless_its_leg_is_held() -> None:
    loose, held = only(still(False), "pump at rest"), only(still(True), "pump at rest")
    assert (loose.severity, held.severity) == ("caution", "note")
    assert loose.part == held.part == "other"


def test_a_flooded_port_at_rest_takes_no_air_in() -> None:
    level = ledger(lifted()).level
    assert only(still(False, level + 0.01), "pump at rest").severity == "caution"
    assert only(still(False, level - 0.01), "pump at rest").severity == "note"


def test_the_port_of_a_line_of_its_own_at_rest_stands_under_its_column() -> None:
    """By hand: the pressure on the fluid, less ρ g times the rise over the level."""
    solution = solve(still(False))
    port = solution.resting["other"]
    surface = solution.pumps["pump"].surface
    assert port.inlet == pytest.approx(surface - solution.fluid.density * 9.80665 * (1.2 - port.level))
