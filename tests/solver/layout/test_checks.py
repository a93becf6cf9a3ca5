"""What must hold between the parts of a drawing."""

from __future__ import annotations

from solver.layout.file import parse
from tests.drawings import EVERY_KEY, SHIPPED
from tests.solver.layout.refused import problems


def test_a_name_used_in_two_tables_is_told_with_both() -> None:
    (problem, *_) = problems(
        EVERY_KEY.replace("[tees.header]", "[tees.carriage]").replace('"header"', '"carriage"')
    )
    assert "tees" in problem.found
    assert problem.key == "pumps.carriage"


def test_references_are_checked_in_parts_that_have_other_errors():
    """All at once: a size that is not known hides no end, a depth no level, a kind no place."""
    text = (
        EVERY_KEY.replace('depth = "2\'"', 'depth = "2 foo"')
        .replace('normal_level = "0.55 m"', 'normal_level = "0.8 m"')
        .replace('at = ["0.9 m", "0.12 m"]', 'at = ["9 m", "0.12 m"]')
        .replace('kind = "strainer"', 'kind = "sieve"')
        .replace('from = "strainer"\nto = "bend-tester"', 'from = "strainer"\nto = "vain"')
        .replace('roughness = "0.046 mm"', 'roughness = "rough"')
    )
    assert {problem.key for problem in problems(text)} >= {
        "reservoirs.tank.depth", "reservoirs.tank.normal_level", "intakes.strainer.kind",
        "intakes.strainer.at", "runs.riser.to", "runs.riser.roughness",
    }  # fmt: skip


def test_an_intake_in_a_reservoir_that_is_not_there_is_told_beside_its_other_errors():
    text = EVERY_KEY.replace('reservoir = "tank"', 'reservoir = "tonk"').replace(
        'kind = "strainer"', 'kind = "sieve"'
    )
    by_key = {problem.key: problem for problem in problems(text)}
    assert {"intakes.strainer.reservoir", "intakes.strainer.kind"} <= by_key.keys()
    assert 'did you mean "tank"?' in by_key["intakes.strainer.reservoir"].allowed


def test_a_port_a_kilometre_off_is_a_mistaken_unit() -> None:
    (path,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
    text = path.read_text("utf-8")
    base = text.partition("[alternatives")[0]
    high = base.replace('at = ["3 ft 5 in", "3 ft 8 in"]', 'at = ["3 ft 5 in", "12 km"]')
    (problem,) = problems(high)
    assert problem.key == "pumps.carriage.at"
    assert problem.found == 'a port at "12 km"'
    assert "within 1000 m of a reservoir" in problem.allowed
    parse(high.replace("12 km", "0.9 km"))
