"""Scales of the units: Saybolt seconds, and a unit for every kind."""

from __future__ import annotations

import pytest
from chemicals.viscosity import viscosity_converter
from hypothesis import given
from hypothesis import strategies as st

from solver.quantities import units
from solver.quantities.units import Kind, System
from tests.solver.quantities.test_units import si


# chemicals 1.5.2, `viscosity_converter`, after ASTM D2161: the equation for Saybolt seconds at 100 degF.
@pytest.mark.parametrize("centistokes", [2.0, 4.0, 7.0, 10.0, 20.0, 32.0, 46.0, 68.0, 100.0, 216.0, 1619.0])
def test_saybolt_seconds_are_those_of_d2161(centistokes: float) -> None:
    seconds = viscosity_converter(centistokes * 1e-6, "kinematic viscosity", "saybolt universal")
    assert si(f"{seconds:.12f} SUS", Kind.VISCOSITY) == pytest.approx(centistokes * 1e-6, rel=2e-5)
    assert float(units.quantity_in(centistokes * 1e-6, Kind.VISCOSITY, "SUS").text[:-4]) == pytest.approx(
        seconds, rel=2e-5
    )


# From memory, by the D2161 equation: 46 mm²/s is 214.19 SUS; 7500 SUS is 1619 mm²/s.
def test_saybolt_figures_of_the_trade() -> None:
    assert si("214.19 SUS", Kind.VISCOSITY) == pytest.approx(46e-6, rel=1e-4)
    assert si("7500 SSU", Kind.VISCOSITY) == pytest.approx(1619e-6, rel=1e-4)


@given(st.floats(32.0, 1e5), st.floats(1.001, 2.0))
def test_more_saybolt_seconds_are_more_viscous(seconds: float, more: float) -> None:
    one, other = si(f"{seconds:.9f} SUS", Kind.VISCOSITY), si(f"{seconds * more:.9f} SUS", Kind.VISCOSITY)
    assert 1.7e-6 < one < other


def test_both_systems_have_a_unit_for_every_kind() -> None:
    bare = {Kind.NUMBER}
    for kind in Kind:
        for system in System:
            assert bool(units.unit(kind, system)) is (kind not in bare)
