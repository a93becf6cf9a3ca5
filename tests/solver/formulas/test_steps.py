"""A step of a working, written."""

from __future__ import annotations

import pytest

from solver.formulas import flow, symbols
from solver.formulas.record import Recorder
from solver.formulas.steps import Step, Working, steps, symbols_of
from solver.quantities.units import System


def velocity(system: System) -> tuple[Step, Step]:
    recorder = Recorder()
    bore = recorder.given(symbols.D, 0.0525, "as drawn")
    recorder.work(flow.velocity, 0.002, bore)
    given, worked = steps(recorder.steps, system)
    return given, worked


def test_a_figure_that_is_given_has_no_formula_and_no_numbers() -> None:
    given, _ = velocity(System.SI)
    assert (given.formula(), given.numbers, given.source) == ("", (), "as drawn")
    assert given.result == "52.5 mm"
    assert velocity(System.US)[0].result.endswith(" in")


def test_a_worked_figure_writes_formula_numbers_and_result() -> None:
    """By hand: 4 × 0.002 / (π × 0.0525²) = 0.9239 m/s."""
    _, worked = velocity(System.SI)
    assert worked.value == pytest.approx(0.92389, rel=1e-4)
    assert worked.formula() == "4 · Q/(π · D²)"
    assert worked.result == "0.9239 m/s"
    assert not worked.implicit


def test_cautions_are_said_once() -> None:
    def step(outside: str) -> Step:
        return Step("f", symbols.f, 0.03, System.SI, "", outside=outside)

    both = Working("k", "t", "", (step("too rough"), step(""), step("too rough"), step("too slow")))
    assert both.cautions == ("too rough", "too slow")


def test_every_symbol_is_listed_once_in_the_order_they_come() -> None:
    listed = [symbol.symbol for symbol in symbols_of(velocity(System.SI) * 2)]
    assert listed == ["D", "v", "Q", "π"]
