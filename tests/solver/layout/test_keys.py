"""Keys that need or rule out each other."""

from __future__ import annotations

from solver.layout.file import parse
from solver.layout.keys import idle_keys
from tests.drawings import EVERY_KEY
from tests.solver.layout.refused import problems


def test_an_unknown_fluid_needs_its_figures() -> None:
    lines = 'density = [["60 degF", "54.0 lb/ft^3"]]\n'
    (problem,) = problems(EVERY_KEY.replace(lines, "").replace("House blend", "Watr"))
    assert problem.key == "fluid.name"
    assert 'did you mean "Water"?' in problem.allowed


def test_one_viscosity_needs_an_index_or_a_family_with_one() -> None:
    lines = EVERY_KEY.replace('    ["100 degC", "6.8 cSt"],\n', "")
    (problem,) = problems(lines)
    assert problem.key == "fluid.viscosity"
    parse(lines.replace("dissolved_air", "viscosity_index = 100\ndissolved_air"))
    parse(lines.replace("House blend", "Mineral oil, ISO VG 46"))


def test_a_head_lost_leaves_no_meaning_to_a_density() -> None:
    assert "density" in idle_keys("fittings", {"kind": "known drop", "head": "1 m"})
    assert "density" not in idle_keys("fittings", {"kind": "known drop", "drop": "1 kPa"})
    assert "viscosity" not in idle_keys("fittings", {"kind": "known drop", "head": "1 m"})
