"""Where air can come into a line, in the state that was solved."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.field import plan
from solver.field.air import air, air_notes, joint_text, seal_text
from solver.field.priming import priming
from solver.findings.judgement import alone
from solver.findings.kinds import Severity
from solver.formulas import flow as formulas
from solver.layout import file
from solver.layout.parts import Layout
from solver.ledger.solve import Solution, solve
from solver.quantities.units import Kind, System, quantity
from tests.drawings import SHIPPED

LAYOUTS = {path.stem: file.read(path).base for path in SHIPPED}
CARRIAGE = LAYOUTS["carriage-at-altitude"]


def with_tank(layout: Layout, **changed: object) -> Solution:
    """A drawing with some figures of its tank replaced, solved."""
    tank = replace(layout.reservoirs["tank"], **changed)
    return solve(replace(layout, reservoirs={"tank": tank}))


def texts(solution: Solution, pump: str) -> str:
    return "\n".join(each.text for each in air_notes(air(solution, pump), solution.layout, System.SI))


def test_joints_stand_in_the_order_of_their_vacuum_and_only_below_the_atmosphere() -> None:
    solution = solve(CARRIAGE)
    held_air = air(solution, "carriage")
    pressures = [joint.pressure for joint in held_air.joints]
    assert pressures == sorted(pressures)
    assert pressures[-1] < solution.pumps["carriage"].atmosphere
    assert (
        joint_text(held_air.joints[0], held_air, System.US)
        == "lead to carriage: 2.3 inHg below the atmosphere"
    )
    assert "behind the gauge" in seal_text(held_air, System.SI)


def test_a_line_above_the_atmosphere_has_no_suspect() -> None:
    solution = solve(LAYOUTS["baler-flooded"])
    held_air = air(solution, "baler")
    assert held_air.joints == ()
    assert seal_text(held_air, System.SI) == ""


def test_the_high_place_is_named_where_it_stands_lower_than_every_joint() -> None:
    """Of a line bent in one piece; bends that are fittings have the lowest joint themselves."""
    drawn = LAYOUTS["over-the-bund-wall"]
    fitted = solve(drawn)
    joints = air(fitted, "transfer").joints
    assert joints[0].name.endswith("bend 2 of crossing")
    assert joints[0].pressure == pytest.approx(air(fitted, "transfer").lowest)
    assert "before any joint listed" not in texts(fitted, "transfer")
    assert "one that the pipe itself is bent to has no joints" in texts(fitted, "transfer")
    crossing = replace(drawn.runs["crossing"], bend_radius=quantity("0.2 m", Kind.LENGTH))
    bent = solve(replace(drawn, runs={**drawn.runs, "crossing": crossing}))
    assert air(bent, "transfer").lowest < min(joint.pressure for joint in air(bent, "transfer").joints)
    assert "of crossing, 12.3 kPa below" in texts(bent, "transfer")
    assert "bent to has no joints" not in texts(bent, "transfer")


def test_free_air_at_the_port_by_henry_s_law() -> None:
    """Bunsen coefficient times the pressure that the fluid has lost, over what it has left, as warm."""
    solution = solve(CARRIAGE)
    ledger = solution.pumps["carriage"]
    by_hand = solution.fluid.dissolved_air * (ledger.surface - ledger.inlet) / ledger.inlet
    by_hand *= solution.fluid.temperature / 273.15
    assert air(solution, "carriage").free_air == pytest.approx(by_hand)


def test_no_air_is_worked_out_where_the_fluid_boils_at_the_port() -> None:
    """It was said of such a port that the fluid's dissolved air is not known."""
    solution = solve(CARRIAGE)
    inlet = solution.pumps["carriage"].inlet
    ledger = replace(solution.pumps["carriage"], vapor_pressure=inlet + 1.0)
    boiling = replace(solution.fluid, vapor_pressure=inlet + 1.0)
    solution = replace(solution, fluid=boiling, pumps={"carriage": ledger})
    assert air(solution, "carriage").free_air is None
    assert "column breaks" in texts(solution, "carriage")


def test_dissolved_air_that_nobody_has_typed_is_not_judged() -> None:
    solution = solve(CARRIAGE)
    unknown = replace(solution.fluid, unknown=(*solution.fluid.unknown, "dissolved_air"))
    solution = replace(solution, fluid=unknown)
    assert air(solution, "carriage").free_air is None
    assert "not judged" in texts(solution, "carriage")


def test_cover_with_the_cylinders_out_is_asked_for_and_judged_once_known() -> None:
    assert "with the cylinders out is not known" in texts(solve(CARRIAGE), "carriage")
    drawn = with_tank(CARRIAGE, draw_down=quantity("5 gal", Kind.VOLUME))
    (cover,) = air(drawn, "carriage").covers
    assert cover.drawn_depth is not None
    assert "not known" not in texts(drawn, "carriage").split("return")[0]
    dry = with_tank(CARRIAGE, draw_down=quantity("500 gal", Kind.VOLUME))
    stops = air_notes(air(dry, "carriage"), dry.layout, System.SI)
    assert any(each.severity is Severity.STOP and "draws air" in each.text for each in stops)


def test_cover_is_held_to_what_keeps_a_vortex_away() -> None:
    solution = solve(CARRIAGE)
    (cover,) = air(solution, "carriage").covers
    entrance = next(each for each in solution.pumps["carriage"].entries if each.kind == "entrance")
    assert cover.needed == pytest.approx(formulas.submergence.scalar(entrance.bore, entrance.velocity))
    shallow = replace(cover, depth=cover.needed - 0.001)
    changed = replace(air(solution, "carriage"), covers=(shallow,))
    said = air_notes(changed, solution.layout, System.SI)
    assert any("a vortex may draw air" in each.text and each.severity for each in said)


@pytest.mark.parametrize(("height", "words"), [("0.2 m", "under the fluid"), ("0.95 m", "ends in the air")])
def test_a_return_is_held_to_the_level(height: str, words: str) -> None:
    assert "not in the drawing" in texts(solve(CARRIAGE), "carriage")
    at = (quantity("0.3 m", Kind.LENGTH), quantity(height, Kind.LENGTH))
    assert words in texts(with_tank(CARRIAGE, return_at=at), "carriage")


def test_a_return_is_not_called_covered_at_a_level_that_is_not_known() -> None:
    at = (quantity("0.3 m", Kind.LENGTH), quantity("0.2 m", Kind.LENGTH))
    assert "at this level; with the cylinders out it is not known" in texts(
        with_tank(CARRIAGE, return_at=at), "carriage"
    )
    known = with_tank(CARRIAGE, return_at=at, draw_down=quantity("5 gal", Kind.VOLUME))
    assert "under the fluid at the lowest" in texts(known, "carriage")


def test_no_figure_is_named_where_the_column_breaks() -> None:
    fast = replace(CARRIAGE.pumps["carriage"], flow=quantity("0.02 m^3/s", Kind.FLOW))
    solution = solve(replace(CARRIAGE, pumps={"carriage": fast}))
    held_air = air(solution, "carriage")
    assert held_air.joints[0].pressure < 0.0
    assert joint_text(held_air.joints[0], held_air, System.US) == "lead to carriage: the column breaks"
    assert "inlet: the column breaks; air" in seal_text(held_air, System.US)
    primed = priming(solution, "carriage", System.US)
    facts = dict(plan.facts(primed, solution, System.US, solution.layout))
    assert facts["Gauge at the port, running as solved"] == "no figure: the column breaks"
    assert "shows no figure: the column breaks" in " ".join(
        plan.steps(primed, alone(solution, ()), solution, System.US)
    )
