"""A calculation done with a recorder gives the figure it gives without one, and leaves its steps behind."""

import numpy as np
import pytest

from solver.formulas import flow, symbols
from solver.formulas.record import UNRECORDED, Calculator, Recorder


def slow_friction(calc: Calculator, reynolds: float) -> float:
    return calc.work(flow.laminar_friction, calc.given(symbols.Re, reynolds, "as drawn"))


def test_a_recorder_gives_the_same_figure_and_keeps_the_steps() -> None:
    recorder = Recorder()
    assert slow_friction(recorder, 500.0) == slow_friction(UNRECORDED, 500.0) == 64 / 500
    given, friction = recorder.steps
    assert (given.symbol, given.value, given.source, given.worked) == (symbols.Re, 500.0, "as drawn", None)
    assert friction.worked is not None
    assert friction.worked.relation is flow.laminar_friction
    assert friction.worked.values == (500.0,)
    assert friction.value == 64 / 500


def test_a_calculator_of_arrays_gives_every_element_and_a_recorder_its_one() -> None:
    many = UNRECORDED.array(flow.laminar_friction, np.array([400.0, 800.0]))
    assert many == pytest.approx([0.16, 0.08])
    recorder = Recorder()
    assert recorder.array(flow.laminar_friction, np.array([400.0])) == pytest.approx([0.16])
    (step,) = recorder.steps
    assert step.worked is not None
    assert step.worked.values == (400.0,)


def test_a_result_computed_in_another_way_is_kept_with_its_relation() -> None:
    recorder = Recorder()
    given = np.array([5000.0]), np.array([1e-4]), np.array([0.05])
    factor = recorder.keep(flow.colebrook, given, np.array([0.039]))
    assert factor == np.array([0.039])
    (step,) = recorder.steps
    assert step.worked is not None
    assert step.worked.named["f_t"] == 0.039


def test_another_symbol_and_name_stand_in_the_place_of_the_formula_s() -> None:
    recorder = Recorder()
    recorder.work(flow.velocity_pressure, 870.0, 1.0, name="of the jet", symbol=symbols.dp)
    (step,) = recorder.steps
    assert (step.name, step.symbol) == ("of the jet", symbols.dp)
