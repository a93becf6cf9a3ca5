"""Viscosity over temperature: through points, and by one point and an index."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.formulas.record import Recorder
from solver.properties import fluid
from solver.properties.fluid import FluidError
from solver.properties.viscosity import walther_line
from solver.quantities.units import Kind, Quantity, quantity
from tests.solver.properties.states import choice, pairs, state


@pytest.mark.parametrize(
    "points",
    [
        [("40 degC", "46 cSt"), ("100 degC", "6.8 cSt")],
        [("100 degC", "6.8 cSt"), ("40 degC", "46 cSt"), ("0 degC", "600 cSt"), ("-20 degC", "4800 cSt")],
        [("20 degC", "1.2 cSt"), ("60 degC", "0.6 cSt")],
    ],
)
def test_a_viscosity_line_passes_through_its_points(points: list[tuple[str, str]]) -> None:
    typed = pairs(Kind.VISCOSITY, *points)
    for at, value in typed:
        fluid_state = fluid.state(
            choice(viscosity=typed, density=quantity("870 kg/m^3", Kind.DENSITY)), at.si
        )
        assert fluid_state.viscosity == pytest.approx(value.si, rel=1e-12)


@given(st.floats(250, 370), st.floats(0.01, 5))
def test_a_viscosity_line_falls_without_a_step(T: float, step: float) -> None:
    points = ((253.15, 4800.0), (273.15, 600.0), (313.15, 46.0), (373.15, 6.8))
    line = walther_line(points)
    assert line(T) > line(T + step) > line(T) * (1 - 0.2 * step)


@pytest.mark.parametrize("at", ["20 degC", "40 degC", "100 degC"])
def test_one_viscosity_and_an_index(at: str) -> None:
    """Whatever point of an oil is typed, its index gives the same oil back."""
    oil = fluid.state(choice(), quantity(at, Kind.TEMPERATURE).si)
    point = ((quantity(at, Kind.TEMPERATURE), Quantity("", oil.viscosity)),)
    again = fluid.state(choice(viscosity=point, viscosity_index=95.0), 273.15)
    assert again.viscosity == pytest.approx(fluid.state(choice(), 273.15).viscosity, rel=1e-9)


def test_a_line_that_leaves_the_standard_is_refused() -> None:
    thin = pairs(Kind.VISCOSITY, ("20 degC", "0.5 cSt"), ("40 degC", "0.22 cSt"))
    with pytest.raises(FluidError, match="D341"):
        state(temperature="60 degC", viscosity=thin, density=pairs(Kind.DENSITY, ("20 degC", "700 kg/m^3")))


def test_an_index_comes_out_of_the_points_that_were_found_for_it() -> None:
    recorder = Recorder()
    state(viscosity=pairs(Kind.VISCOSITY, ("50 degC", "30 cSt")), viscosity_index=110.0).explain(recorder)
    typed, worked = (step.value for step in recorder.steps if step.symbol.symbol == "VI")
    assert typed == 110.0
    assert worked == pytest.approx(110.0, rel=1e-9)
