"""Two lines that meet at a fitting out of line turn a corner there."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from fluids import fittings as library

from solver.layout.parts import Layout
from solver.ledger.solve import Entry, solve
from solver.network.build import Network, build
from solver.properties.sizes import INCH, nominal
from solver.quantities.units import System
from solver.working.working import working
from tests.drawings import drawing, fitting, intake, pump, run


def cornered(degrees: float, kind: str = "ball valve", bore: float = 0.05) -> Layout:
    """A riser to a valve, and a lead that leaves it at that angle from straight on."""
    turn = math.radians(degrees)
    far = (0.9 + math.sin(turn), 0.9 + math.cos(turn))
    return drawing(
        intake(),
        fitting("isolator", (0.9, 0.9), kind=kind, bore=bore),
        pump(at=far),
        run("riser", "strainer", "isolator"),
        run("lead", "isolator", "pump"),
    )


def corners(network: Network) -> list[str]:
    return [row.key for row in network.rows if row.kind == "corner"]


def corner(layout: Layout) -> Entry:
    (only,) = (e for e in solve(layout).pumps["pump"].entries if e.kind == "corner")
    return only


@pytest.mark.parametrize(("degrees", "row"), [(90, "Elbow, 90°, mitered, 1 weld, (90°)"),
                                              (45, "Elbow, 45°, mitered, 1 weld, (45°)")])  # fmt: skip
def test_the_corner_is_darby_s_mitre(degrees: float, row: str) -> None:
    """Darby (2001), as the library fluids has it."""
    entry = corner(cornered(degrees))
    theirs = library.Darby3K(NPS=nominal(None, 0.05) / INCH, Re=entry.reynolds, name=row)
    assert entry.k == pytest.approx(theirs, rel=1e-9)
    assert entry.loss == pytest.approx(theirs * 870 / 2 * entry.velocity**2, rel=0.05)


def test_lines_in_line_turn_no_corner() -> None:
    assert corners(build(cornered(0))) == []
    assert corners(build(cornered(0.4))) == []
    assert corners(build(cornered(0.6))) == ["isolator/corner"]


def test_the_corner_grows_with_its_angle_from_nothing() -> None:
    losses = [corner(cornered(degrees)).loss for degrees in (0.6, 10, 30, 60, 90, 120, 150)]
    assert losses[0] < 0.02 * losses[4]
    assert all(more > less for less, more in pairwise(losses))


def test_the_corner_is_charged_in_the_slimmest_of_the_three() -> None:
    assert corner(cornered(90, bore=0.03)).bore == 0.03
    assert corner(cornered(90, bore=0.08)).bore == 0.05


def test_an_angle_valve_holds_its_own_turn() -> None:
    assert corners(build(cornered(90, "angle valve"))) == []
    assert corners(build(cornered(130, "angle valve"))) == ["isolator/corner"]


def test_the_note_and_the_working_say_so() -> None:
    solution = solve(cornered(30))
    row = solution.network.rows[solution.network.index["isolator/corner"]]
    assert row.note.startswith("the lines at isolator are 30° out of line: charged as a mitre of that angle")
    steps = working(solution, "pump", "isolator/corner", System.SI).steps
    assert any("out of line" in step.source for step in steps)
    assert any("Darby" in step.source for step in steps)
