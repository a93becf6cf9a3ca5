"""The acceleration head: the Institute's example, its constants from the crank, its place in a ledger."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.answers import sweep
from solver.formulas.flow import GRAVITY
from solver.layout.file import parse
from solver.layout.parts import FluidChoice, Layout
from solver.ledger.acceleration import constants
from solver.ledger.solve import solve
from solver.network.build import NetworkError
from solver.quantities.units import Quantity
from tests.drawings import drawing, intake, metres, pump, run, tank, tee

OIL = FluidChoice("Mineral oil, ISO VG 46", Quantity("45 degC", 318.15))
FOOT, GPM = 0.3048, 231 * 0.0254**3 / 60

TRIPLEX = """
format = 1
title = "Water to a triplex pump"
units = "US customary"
[site]
elevation = "0 m"
[fluid]
name = "Water"
temperature = "68 degF"
[reservoirs.sump]
outline = [["-10 ft", "0 ft"], ["0 ft", "0 ft"], ["0 ft", "20 ft"], ["-10 ft", "20 ft"]]
depth = "10 ft"
normal_level = "15 ft"
minimum_level = "12 ft"
[intakes.mouth]
reservoir = "sump"
at = ["0 ft", "5 ft"]
kind = "wall nozzle"
size = "NPS 6 schedule 40"
[fittings.reducer]
at = ["20 ft", "5 ft"]
kind = "eccentric reducer"
size = "NPS 6 schedule 40"
other_size = "NPS 4 schedule 40"
[pumps.triplex]
at = ["24 ft", "5 ft"]
size = "NPS 4 schedule 40"
type = "reciprocating"
flow = "73 gpm"
speed = "360 rpm"
cylinders = 3
fluid_constant = 1.4
limit = { npsh = "3 m" }
[runs.six]
from = "mouth"
to = "reducer"
size = "NPS 6 schedule 40"
[runs.four]
from = "reducer"
to = "triplex"
size = "NPS 4 schedule 40"
"""


def reciprocating(layout: Layout, **changes: object) -> Layout:
    given = {"type": "reciprocating", "speed": Quantity("300 rpm", 5.0), "cylinders": 3, **changes}
    return replace(layout, pumps={n: replace(p, **given) for n, p in layout.pumps.items()})


def lifted(**changes: object) -> Layout:
    line = run("riser", "strainer", "pump", via=[(0.9, 1.2)])
    return reciprocating(drawing(intake(), pump(at=(1.5, 1.2), flow=0.001), line), **changes)


def head(layout: Layout, pump: str = "pump") -> float:
    """Acceleration head of a pump's entry [m]."""
    ledger = solve(layout).pumps[pump]
    (entry,) = (e for e in ledger.entries if e.kind == "acceleration head")
    return entry.loss / (ledger.density * GRAVITY)


def test_the_institute_s_triplex() -> None:
    """2 by 5 in triplex, 360 rpm, 73 gpm of water, 20 ft of 6 in and 4 ft of 4 in pipe: 12.4 ft.

    Hydraulic Institute, reciprocating pumps, acceleration head; the printed 12.4 ft from memory.
    """
    layout = parse(TRIPLEX).base
    assert head(layout, "triplex") / FOOT == pytest.approx(12.4, abs=0.05)


@pytest.mark.parametrize(
    ("cylinders", "double", "printed"),
    [(1, False, 0.400), (1, True, 0.200), (2, False, 0.200), (2, True, 0.115), (3, False, 0.066),
     (3, True, 0.066), (5, False, 0.040), (7, False, 0.028), (9, True, 0.022)],
)  # fmt: skip
def test_the_constants_follow_from_the_crank(cylinders: int, double: bool, printed: float) -> None:
    """C = greatest |dQ/dt| over mean Q, per rpm, of cranks with rods five times as long."""
    turn = np.linspace(0.0, 2 * math.pi, 200_001)
    flow = np.zeros_like(turn)
    apart = math.pi / 2 if cylinders == 2 and double else 2 * math.pi / cylinders
    for i in range(cylinders):
        at = turn + i * apart
        speed = np.sin(at) + 0.1 * np.sin(2 * at) / np.sqrt(1 - (0.2 * np.sin(at)) ** 2)
        flow += np.maximum(speed, 0.0) + (np.maximum(-speed, 0.0) if double else 0.0)
    steepest = np.abs(np.diff(flow) / np.diff(turn)).max()
    by_hand = steepest / flow[:-1].mean() * 2 * math.pi / 60
    given = replace(pump(), type="reciprocating", cylinders=cylinders, double_acting=double)
    c = constants(given, OIL).cylinders
    assert c == printed
    if not (cylinders == 1 and double) and not (double and cylinders % 2):
        assert c == pytest.approx(by_hand, rel=0.02)


def test_k_is_that_of_the_fluid_unless_typed() -> None:
    changed = replace(pump(), type="reciprocating", cylinders=3)

    def of(name: str) -> float:
        return constants(changed, replace(OIL, name=name)).fluid

    assert (of("Water"), of("Water-glycol (HFC)"), of("Mineral oil, ISO VG 46")) == (1.4, 1.5, 2.0)
    assert of("95/5 emulsion (HFA)") == 1.4
    assert of("Somebody's own") == of("Natural ester") == of("Phosphate ester (HFDR)") == 1.0
    assert constants(replace(changed, fluid_constant=2.5), OIL).fluid == 2.5
    assert "K (GPSA, unverified) of hydrocarbons" in constants(changed, OIL).source


def test_a_fluid_that_the_table_of_k_does_not_name_takes_as_much_as_a_rigid_column() -> None:
    """By hand: the mass of the line times the steepest rise of its velocity, of a crank's constant."""
    layout = lifted()
    own = replace(layout, fluid=replace(layout.fluid, name="Phosphate ester (HFDR)"))
    (head,) = (each for each in solve(own).pumps["pump"].entries if each.kind == "acceleration head")
    (given,) = layout.pumps.values()
    assert given.fluid_constant is None
    assert given.speed is not None
    c = constants(given, own.fluid).cylinders
    steepest = c * 60 * given.speed.si * head.velocity
    assert head.loss == pytest.approx(solve(own).fluid.density * head.length * steepest)


def test_a_number_of_cylinders_without_a_constant_is_refused() -> None:
    with pytest.raises(NetworkError, match="give cylinder_constant"):
        solve(lifted(cylinders=4))
    with pytest.raises(NetworkError, match="needs its speed"):
        solve(lifted(speed=None))
    assert head(lifted(cylinders=None, cylinder_constant=0.08)) > 0


def test_it_is_a_line_of_its_own_before_the_port_and_the_sums_hold() -> None:
    ledger = solve(lifted()).pumps["pump"]
    *before, strokes, port = ledger.entries
    assert (strokes.key, strokes.kind, port.kind) == ("pump/acceleration head", "acceleration head", "port")
    assert sum(e.lift + e.loss for e in ledger.entries) == pytest.approx(ledger.spent)
    assert sum(e.share for e in ledger.entries) == pytest.approx(1 - ledger.margin / ledger.budget)
    assert strokes.pressure == pytest.approx(before[-1].pressure - strokes.loss)
    assert port.pressure == pytest.approx(ledger.inlet)
    plain = solve(reciprocating(lifted(), type="piston")).pumps["pump"]
    assert ledger.spent == pytest.approx(plain.spent + strokes.loss)
    assert ledger.npsh_available == pytest.approx(
        plain.npsh_available - strokes.loss / (ledger.density * GRAVITY)
    )


@given(st.floats(0.2, 3.0))
def test_it_grows_with_speed_and_with_flow(factor: float) -> None:
    speed = lifted(speed=Quantity("x", 5.0 * factor))
    flow = lifted(flow=Quantity("x", 0.001 * factor))
    assert head(speed) == pytest.approx(head(lifted()) * factor)
    assert head(flow) == pytest.approx(head(lifted()) * factor)


def test_a_header_is_sped_up_by_each_pump_s_own_flow_alone() -> None:
    def header(other: float) -> Layout:
        return reciprocating(
            drawing(
                intake(bore=0.06),
                tee("header", (0.9, 1.2), bore=0.06),
                pump("top", (0.9, 2.0), flow=0.001),
                pump("side", (2.0, 1.2), flow=other),
                run("riser", "strainer", "header", bore=0.06),
                run("up", "header", "top"),
                run("across", "header", "side"),
            )
        )

    assert head(header(0.003), "top") == pytest.approx(head(header(0.0005), "top"))


def test_at_a_summit_part_of_it_is_missing_already() -> None:
    line = run("over", "strainer", "pump", via=[(0.9, 2.6), (2.0, 2.6), (2.0, 0.3)], bend_radius=0.05)
    layout = reciprocating(drawing(tank(), intake(), pump(at=(3.0, 0.3), flow=0.001), line), cylinders=9)
    ledger = solve(layout).pumps["pump"]
    at = next(e for e in ledger.entries if e.key == ledger.lowest_at)
    assert at.part == "over"
    assert ledger.lowest < at.pressure
    strokes = next(e for e in ledger.entries if e.kind == "acceleration head")
    assert at.pressure - ledger.lowest == pytest.approx(
        strokes.loss * at.distance / ledger.entries[-1].distance, rel=1e-9
    )


def test_a_pump_that_does_not_stroke_has_none() -> None:
    assert not any(
        e.kind == "acceleration head"
        for e in solve(reciprocating(lifted(), type="screw")).pumps["pump"].entries
    )


def test_published_speeds_of_separation_follow_from_a_plain_crank() -> None:
    """Coulson and Richardson, vol. 1, Example 8.1: 0.677 Hz (as worked in a public collection of solutions).

    A single-acting pump of 110 mm bore and 230 mm stroke, 6 m of 50 mm pipe, the level 3 m below, 10.36 m of
    atmosphere, separation at 1.2 m. A pure sine is C = 2 π²/60, and nothing is taken off for the fluid.
    """
    turns = 0.677
    flow = math.pi / 4 * 0.110**2 * 0.230 * turns
    line = replace(run("line", "mouth", "pump", bore=0.05), bend_radius=None)
    layout = drawing(
        tank(size=(9.0, 4.0), normal=1.0, minimum=1.0),
        intake("mouth", (1.0, 0.5)),
        pump(at=(1.0, 4.0), flow=flow),
        replace(line, out_of_plane=metres(2.5)),
    )
    layout = reciprocating(
        layout,
        speed=Quantity("x", turns),
        cylinders=None,
        cylinder_constant=2 * math.pi**2 / 60,
        fluid_constant=1.0,
    )
    assert 3.0 + head(layout) == pytest.approx(10.36 - 1.2, rel=0.002)


def test_many_variants_are_accelerated_as_one_is() -> None:
    inputs = {"temperature": np.array([[290.0], [330.0]]), "speed": np.array([2.0, 5.0, 8.0])}
    layout = lifted(displacement=Quantity("0.2 L/rev", 2e-4), flow=None)
    swept = sweep.solve(layout, inputs).pumps["pump"]
    for i, temperature in enumerate((290.0, 330.0)):
        for j, speed in enumerate((2.0, 5.0, 8.0)):
            one = solve(sweep.variant(layout, {"temperature": temperature, "speed": speed})).pumps["pump"]
            assert swept.margin[i, j] == pytest.approx(one.margin, rel=1e-12)
            assert swept.lowest[i, j] == pytest.approx(one.lowest, rel=1e-12)
