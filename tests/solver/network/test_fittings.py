"""A fitting by its kind's table, or by the figure given for it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.formulas.flow import GRAVITY
from solver.layout.parts import Opening
from solver.network import rows
from solver.network.coefficients import FittingError
from solver.network.fittings import (
    NO_BYPASS_POINT,
    NO_LAMINAR_PART,
    NO_SECOND_POINT,
    fitting_figures,
    takes_more,
)
from solver.quantities.units import Kind, Quantity, quantity
from tests.drawings import fitting, metres
from tests.solver.network.valves import by_kv, lost


def test_a_part_open_valve_loses_by_its_opening_and_not_by_its_table() -> None:
    valve = fitting("v", (0.0, 0.0), kind="ball valve")
    part = replace(valve, opening=Opening(kv=Quantity("12 m^3/h", 12 / 3600)))
    assert lost(part, 1e-3, 870.0, 46e-6) == pytest.approx(lost(by_kv(12.0), 1e-3, 870.0, 46e-6))
    assert lost(part, 1e-3, 870.0, 46e-6) > 20 * lost(valve, 1e-3, 870.0, 46e-6)
    (row,) = rows.fitting_rows(part)
    assert (row.kind, row.k_re) == ("valve", 0.0)
    by_cv = replace(valve, opening=Opening(cv=quantity("13.8738 gpm", Kind.FLOW_COEFFICIENT_CV)))
    assert lost(by_cv, 1e-3, 870.0, 46e-6) == pytest.approx(lost(part, 1e-3, 870.0, 46e-6), rel=1e-3)


@given(st.floats(1.0, 200.0), st.floats(1.01, 2.0))
def test_a_valve_opened_further_loses_less(kv: float, factor: float) -> None:
    assert lost(by_kv(kv * factor), 1e-3, 870.0, 46e-6) < lost(by_kv(kv), 1e-3, 870.0, 46e-6)


def test_a_known_k_may_have_a_term_for_slow_flow() -> None:
    part = replace(fitting("d", (0.0, 0.0), kind="known K"), k=1.2, k_re=500.0)
    (row,) = rows.fitting_rows(part)
    assert (row.k_inf, row.k_re) == (1.2, 500.0)


def test_a_connector_loses_by_its_length() -> None:
    part = replace(fitting("d", (0.0, 0.0), kind="flexible connector"), length=metres(0.3))
    (row,) = rows.fitting_rows(part)
    (six,) = rows.fitting_rows(replace(part, length=None))
    assert (row.k_inf, row.k_re) == pytest.approx((six.k_inf, six.k_re))  # 0.3 m are six bores
    (twice,) = rows.fitting_rows(replace(part, length=metres(0.6)))
    assert (twice.k_inf, twice.k_re) == pytest.approx((2 * row.k_inf, 2 * row.k_re))


@pytest.mark.parametrize(
    ("kind", "missing"), [("known K", "k"), ("known drop", "drop"), ("flow coefficient", "Kv")]
)
def test_a_device_without_its_figure_is_refused_by_name(kind: str, missing: str) -> None:
    with pytest.raises(FittingError, match=missing):
        fitting_figures(fitting("d", (0.0, 0.0), kind=kind), (0.05, 0.05))


def test_a_drop_read_at_no_flow_is_refused() -> None:
    part = replace(fitting("d", (0.0, 0.0), kind="known drop"), drop=quantity("0.1 bar", Kind.PRESSURE))
    assert fitting_figures(part, (0.05, 0.05))["read_drop"] == pytest.approx(1e4)
    with pytest.raises(FittingError, match="above 0"):
        fitting_figures(replace(part, flow=Quantity("0 L/min", 0.0)), (0.05, 0.05))


def test_a_head_lost_is_that_of_the_fluid_that_flows() -> None:
    """ρ g h whatever the fluid weighs; more of it with a thicker one, as of a drop; by the flow where it is
    known."""
    part = replace(fitting("d", (0.0, 0.0), kind="known drop"), head=quantity("1.2 m", Kind.HEAD))
    for density in (700.0, 870.0, 998.0, 1200.0):
        assert lost(part, 1e-3, density, 1e-6) == pytest.approx(density * GRAVITY * 1.2, rel=1e-12)
    assert lost(part, 1e-3, 870.0, 90e-6) == pytest.approx(3 * lost(part, 1e-3, 870.0, 30e-6))
    thick = replace(part, viscosity=quantity("90 cSt", Kind.VISCOSITY))
    assert lost(thick, 1e-3, 870.0, 90e-6) == pytest.approx(870 * GRAVITY * 1.2)
    at_flow = replace(part, flow=quantity("60 L/min", Kind.FLOW))
    assert lost(at_flow, 2e-3, 870.0, 1e-6) == pytest.approx(4 * 870 * GRAVITY * 1.2)
    assert lost(at_flow, 5e-4, 870.0, 1e-6) == pytest.approx(870 * GRAVITY * 1.2 / 2)


def test_a_lack_counts_where_it_makes_a_loss_larger() -> None:
    assert takes_more(NO_LAMINAR_PART, 1999.0, False)
    assert not takes_more(NO_LAMINAR_PART, 2001.0, False)
    assert takes_more(NO_BYPASS_POINT, 5000.0, True)
    assert not takes_more(NO_BYPASS_POINT, 500.0, False)
    assert not takes_more("", 500.0, True)
    assert not takes_more(NO_SECOND_POINT, 500.0, True, parts=1.6)
    assert takes_more(NO_SECOND_POINT, 500.0, True, parts=1.7)
    assert takes_more(NO_SECOND_POINT, 500.0, True, parts=0.5)
