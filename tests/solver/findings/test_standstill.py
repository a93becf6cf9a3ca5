"""Pumps that start too quickly for a rigid column, and pumps at rest that may let air in."""

import itertools
from dataclasses import replace

import pytest

from solver.findings.checks import check
from solver.ledger.solve import solve
from solver.quantities.units import Quantity
from tests.drawings import drawing, fitting, intake, pump, run, tee
from tests.solver.checking import found, lifted, only, with_pump


def rising(seconds):
    return with_pump(lifted(), flow_rise=Quantity(f"{seconds!r} s", seconds))


def test_too_quick_for_a_rigid_column_on_both_sides_of_its_limit():
    one = only(rising(1e-3), "too quick for a rigid column")
    length = next(e.length for e in solve(rising(1e-3)).pumps["pump"].entries if e.kind == "flow rise")
    assert one.threshold == pytest.approx(10 * length / 1000.0)
    assert found(rising(one.threshold * 0.999), "too quick for a rigid column")
    assert not found(rising(one.threshold * 1.001), "too quick for a rigid column")
    assert not found(lifted(), "too quick for a rigid column")


def resting(height, *line):
    """Two pumps on one tee, the one at `height` at rest; `line` is what stands in its leg."""
    ends = ["split", *(part.name for part in line), "idle"]
    legs = [run(f"leg {n}", a, b) for n, (a, b) in enumerate(itertools.pairwise(ends))]
    layout = drawing(
        intake(),
        tee("split", (0.9, 0.9)),
        pump("main", at=(2.6, 0.9)),
        pump("idle", at=(0.9, height)),
        run("riser", "strainer", "split"),
        run("main leg", "split", "main"),
        *line,
        *legs,
    )
    return replace(layout, pumps={**layout.pumps, "idle": replace(layout.pumps["idle"], at_rest=True)})


def told(layout):
    return [each for each in check(solve(layout)) if each.finding == "pump at rest"]


def test_a_lifted_pump_at_rest_may_let_air_in_unless_its_leg_has_a_check_valve():
    (one,) = told(resting(1.6))
    assert one.severity == "caution"
    assert "shaft seal" in one.text
    assert "a check valve in its outlet is assumed" in one.text
    (held,) = told(resting(1.6, fitting("check", (0.9, 1.2), kind="swing check")))
    assert held.severity == "note"
    assert "assumed" in held.text
