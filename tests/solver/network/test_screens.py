"""Screens and devices: limits, fits and refusals. Published values: tests/published/test_screens.py."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.layout.parts import Screen
from solver.network import screens
from solver.network.coefficients import FittingError
from solver.quantities.units import Kind, quantity

MESH = Screen(
    mesh=quantity("100 per inch", Kind.WIRES),
    wire=quantity("0.0045 in", Kind.BORE),
    area=quantity("0.05 m^2", Kind.AREA),
)
MU, RHO = 32e-6 * 870, 870.0


def _points(*points: tuple[str, str]) -> Screen:
    return Screen(
        drops=tuple((quantity(q, Kind.FLOW), quantity(p, Kind.PRESSURE)) for q, p in points),
        viscosity=quantity("32 cSt", Kind.VISCOSITY),
        density=quantity("870 kg/m^3", Kind.DENSITY),
    )


def _loss(screen: screens.ScreenLoss, flow: float) -> float:
    return screen.viscous * MU * flow + screen.inertial * RHO * flow**2


@given(st.floats(0, 0.99))
def test_a_blocked_screen_is_a_smaller_screen(blocked: float) -> None:
    area = 0.05 * (1 - blocked)
    smaller = replace(MESH, area=replace(quantity("1 m^2", Kind.AREA), si=area))
    assert screens.screen(replace(MESH, blocked=blocked))[:2] == pytest.approx(screens.screen(smaller)[:2])
    twice = screens.screen(replace(_points(("100 L/min", "0.02 bar")), blocked=blocked))
    clean = screens.screen(_points(("100 L/min", "0.02 bar")))
    assert _loss(twice, 1e-3 * (1 - blocked)) == pytest.approx(_loss(clean, 1e-3))


def test_no_bypass_no_cap() -> None:
    assert screens.screen(MESH).cap == math.inf
    assert screens.screen(replace(MESH, bypass=quantity("0.2 bar", Kind.PRESSURE))).cap == pytest.approx(2e4)


@given(st.floats(1e8, 1e11), st.floats(1e5, 1e9))
def test_exact_points_give_their_own_coefficients(viscous: float, inertial: float) -> None:
    points = [(q, viscous * MU * q + inertial * RHO * q * q) for q in (5e-4, 1e-3, 2e-3)]
    assert screens.fit(points, MU, RHO) == pytest.approx((viscous, inertial), rel=1e-5, abs=1e-3)


@given(st.lists(st.tuples(st.floats(1e-4, 1e-2), st.floats(10, 1e5)), min_size=2, max_size=6))
def test_the_fit_is_the_best_of_those_not_below_zero(points: list[tuple[float, float]]) -> None:
    def misfit(viscous: float, inertial: float) -> float:
        return sum((viscous * MU * q + inertial * RHO * q * q - p) ** 2 for q, p in points)

    viscous, inertial = screens.fit(points, MU, RHO)
    assert viscous >= 0
    assert inertial >= 0
    best = misfit(viscous, inertial)
    rounding = 1e-12 * sum(p * p for _, p in points)
    for a, b in ((1.02, 1), (0.98, 1), (1, 1.02), (1, 0.98), (1.02, 0.98), (0.98, 1.02)):
        assert misfit(viscous * a, inertial * b) >= best - rounding


def test_points_that_fall_with_the_square_of_flow_are_all_viscous() -> None:
    viscous, inertial = screens.fit([(1e-3, 1000.0), (2e-3, 1500.0)], MU, RHO)
    assert inertial == 0
    assert viscous > 0


def test_points_that_rise_faster_than_the_square_are_all_inertial() -> None:
    viscous, inertial = screens.fit([(1e-3, 1000.0), (2e-3, 9000.0)], MU, RHO)
    assert viscous == 0
    assert inertial > 0


def test_points_at_one_flow_are_met_and_read_half_and_half() -> None:
    """Nothing tells the two parts apart: at that flow the mean of the points, at twice the flow
    (2 + 4)/2 = 3 times as much, at half of it (1/2 + 1/4)/2 = 3/8."""
    repeated = screens.screen(_points(("100 L/min", "2 kPa"), ("100 L/min", "3 kPa")))
    flow = 0.1 / 60
    assert _loss(repeated, flow) == pytest.approx(2500.0)
    assert _loss(repeated, 2 * flow) == pytest.approx(3 * 2500.0)
    assert _loss(repeated, flow / 2) == pytest.approx(2500.0 * 3 / 8)


def test_one_point_is_all_viscous_where_its_end_fitting_is_laminar() -> None:
    one = _points(("118 L/min", "0.01 bar"))
    laminar, unknown, turbulent = screens.screen(one, 0.0525), screens.screen(one), screens.screen(one, 0.005)
    assert laminar.inertial == 0
    assert "all viscous" in laminar.note
    assert "half" in unknown.note
    assert "half" in turbulent.note
    for element in (laminar, unknown, turbulent):
        assert _loss(element, 118e-3 / 60) == pytest.approx(1000.0)


@pytest.mark.parametrize(
    ("screen", "text"),
    [
        (Screen(), "mesh, wire and area"),
        (replace(MESH, wire=None), "mesh, wire and area"),
        (replace(MESH, wire=quantity("0.01 in", Kind.BORE)), "no opening"),
        (replace(MESH, area=quantity("0 m^2", Kind.AREA)), "above nothing"),
        (replace(MESH, blocked=1.0), "lets nothing through"),
        (replace(MESH, blocked=-0.1), "lets nothing through"),
        (replace(_points(("100 L/min", "0.02 bar")), viscosity=None), "viscosity and density"),
        (_points(("0 L/min", "0.02 bar")), "above nothing"),
    ],
)
def test_refused(screen: Screen, text: str) -> None:
    with pytest.raises(FittingError, match=text):
        screens.screen(screen)


def test_a_cloth_outside_the_tests_says_so() -> None:
    coarse = replace(MESH, mesh=quantity("20 per inch", Kind.WIRES), wire=quantity("0.016 in", Kind.BORE))
    assert "outside the 5 to 550" in screens.screen(coarse).note
    assert screens.screen(MESH).note == ""


def test_devices() -> None:
    for bad in ({}, {"kv": 1.0, "cv": 1.0}, {"kv": 0.0}):
        with pytest.raises(FittingError):
            screens.flow_coefficient(**bad)
