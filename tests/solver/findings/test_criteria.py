"""The criteria that findings are held to: the defaults, the drawing's own, and those given."""

from __future__ import annotations

from dataclasses import fields, replace
from decimal import Decimal
from operator import is_
from pathlib import Path

import pytest

from solver.findings.checks import check
from solver.findings.criteria import (
    Criteria,
    SharedFindings,
    criteria_of,
    flowing,
    held_in,
    percent_and_limit,
    subjects,
)
from solver.findings.judgement import judge
from solver.findings.kinds import OVER_BUDGET
from solver.layout import file
from solver.layout.file import parse
from solver.layout.parts import Case
from solver.ledger.cases import solve_cases
from solver.ledger.rounding import RoundedLedger, in_decimals
from solver.ledger.solve import solve
from solver.quantities.adding import as_shown
from solver.quantities.units import Kind, Quantity, System, quantity
from tests import drawings
from tests.drawings import ARRANGEMENTS, SHIPPED
from tests.solver.checking import lifted, with_floor


def test_a_drawing_without_criteria_is_held_to_the_defaults() -> None:
    assert criteria_of(lifted()) == Criteria()


def test_a_drawing_s_own_criteria_take_the_place_of_the_defaults() -> None:
    own = criteria_of(parse(ARRANGEMENTS).base)
    assert own == replace(
        Criteria(),
        thin_margin=0.15,
        free_air=0.03,
        velocity_caution=1.0,
        velocity_stop=1.4,
        vapor_margin=12e3,
        straight_before_port=4.0,
        running_viscosity=13e-6,
    )


def test_findings_are_held_to_the_drawing_s_criteria_unless_others_are_given() -> None:
    layout = lifted()
    speed = max(e.velocity for e in solve(layout).pumps["pump"].entries if e.kind == "straight")
    hair = 1e-6

    def told(limit: float, given: Criteria | None = None) -> bool:
        own = {"velocity_caution": quantity(f"{limit:.9f} m/s", Kind.VELOCITY)}
        findings = check(solve(replace(layout, criteria=own)), given)
        return any(finding.finding == "suction velocity" for finding in findings)

    assert told(speed - hair)
    assert not told(speed + hair)
    assert not told(speed - hair, Criteria())
    assert told(speed + hair, replace(Criteria(), velocity_caution=speed - hair))


def test_every_criterion_has_its_kind_and_its_source() -> None:
    for field in fields(Criteria):
        assert isinstance(field.metadata["kind"], Kind)
        assert field.metadata["source"]


def test_cases_share_what_checks_see_of_the_flow_where_that_is_the_same() -> None:
    text = drawings.steps_text(4).replace("format = 1", "format = 2")
    text += '[cases.hot]\nfluid.temperature = "60 degC"\n[cases.full]\nlevel = "normal"\n'
    text += '[cases.slow]\npumps.pump.flow = "9 L/min"\n[cases.due]\nintakes.mouth.screen.blocked = "60 %"\n'
    solved = solve_cases(parse(text).base).items()
    seen = {name: case.solution for name, case in solved if case.solution is not None}
    looked_at = {name: flowing(next(iter(subjects(solution)))) for name, solution in seen.items()}
    drawn = looked_at.pop("as drawn")
    alike = [name for name, things in looked_at.items() if all(map(is_, things, drawn))]
    assert alike == ["hot"]
    shared = SharedFindings()
    for solution in seen.values():
        assert check(solution, seen=shared) == check(solution)


def test_a_finding_of_several_cases_names_that_of_its_figures():
    slower = Case({}, {("pumps", "pump", "flow"): Quantity("1 L/s", 1e-3)})
    layout = replace(with_floor(lifted(flow=0.003), 95e3), cases={"slower": slower})
    over = next(each for each in judge(layout).findings if each.finding in OVER_BUDGET)
    assert held_in(over, 2) == "In every case; the figures are those as drawn"
    assert held_in(replace(over, cases=("slower",)), 2) == 'Cases: "slower"'
    assert held_in(over, 1) == ""


def test_a_share_and_its_limit_do_not_read_alike() -> None:
    assert percent_and_limit(0.57, 0.2) == ("57 %", "20 %")
    assert percent_and_limit(0.1983, 0.2) == ("19.8 %", "20 %")
    assert percent_and_limit(0.1996, 0.2) == ("19.96 %", "20 %")
    assert percent_and_limit(0.1281, 0.128) == ("12.81 %", "12.80 %")


@pytest.mark.parametrize("units", System)
@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_a_vacuum_on_the_way_is_the_air_less_the_pressure_as_a_ledger_shows_both(
    path: Path, units: System
) -> None:
    """A joint stood 0.99 inHg below 29.05, and in the ledger at 28.05."""
    drawn = file.read(path)
    for layout in (drawn.base, *(each.layout for each in drawn.alternatives.values())):
        for subject in subjects(solve(replace(layout, units=units))):
            ledger = subject.ledger
            shown, air = RoundedLedger(ledger, units), as_shown(ledger.atmosphere, Kind.VACUUM, units)
            for entry in ledger.entries:
                told = subject.show_below_atmosphere(entry.pressure).split()[0].replace("\N{MINUS SIGN}", "-")
                assert Decimal(told) == air - in_decimals(shown.entry(entry)[3]), entry.key
