"""Coefficients of fittings: limits, continuity and refusals. Published values: tests/published/."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.layout.kinds import REDUCER_KINDS, Bend, FittingKind, IntakeKind
from solver.ledger.solve import solve
from solver.network import coefficients
from solver.network.coefficients import FittingError
from solver.properties import sizes
from solver.quantities.units import Quantity
from tests.drawings import drawing, intake, pump, run

NPS_2 = sizes.find("NPS 2 schedule 40")
RADIUS = {"short radius": 0.0508, "threaded elbow": 0.0508, "mitre": 0.0}
FOOT_VALVES = ("foot valve", "poppet foot valve")

BY_OTHER_MEANS = {
    "filter",
    "known K",
    "flow coefficient",
    "known drop",
    "maker's curve",
    *REDUCER_KINDS,
}


def _bend(bend: str, degrees: float) -> coefficients.Bend:
    return coefficients.bend_k(
        bend, RADIUS.get(bend, 0.0762), math.radians(degrees), NPS_2.bore, NPS_2.nominal, 0.0
    )


@pytest.mark.parametrize("kind", [kind for kind in FittingKind if kind not in BY_OTHER_MEANS])
def test_every_fitting_of_a_drawing_has_coefficients_with_a_source(kind: str) -> None:
    k = coefficients.fitting_k(kind, NPS_2.nominal, NPS_2.bore)
    assert k.k_inf > 0
    assert k.k_re >= 300
    assert k.source


@pytest.mark.parametrize("kind", [kind for kind in IntakeKind if kind not in FOOT_VALVES])
def test_every_intake_has_an_entrance(kind: str) -> None:
    k = coefficients.entrance_k(kind)
    assert 0 < k.k_inf <= 1
    assert k.k_re == 160


@pytest.mark.parametrize("kind", [*sorted(BY_OTHER_MEANS), "tee run", "mitre 90", ""])
def test_no_coefficients_for_what_is_no_fitting(kind: str) -> None:
    with pytest.raises(FittingError, match="gate valve"):
        coefficients.fitting_k(kind, NPS_2.nominal, NPS_2.bore)
    with pytest.raises(FittingError, match="bell-mouth"):
        coefficients.entrance_k(kind)


@given(st.floats(0.01, 0.3), st.floats(1.01, 2))
def test_a_larger_valve_of_a_kind_loses_less(nominal: float, factor: float) -> None:
    for kind in ("gate valve", "swing check", "butterfly valve"):
        small = coefficients.fitting_k(kind, nominal, nominal)
        large = coefficients.fitting_k(kind, nominal * factor, nominal * factor)
        assert large.k_inf < small.k_inf
        assert large.k_re == small.k_re


@pytest.mark.parametrize("bend", Bend)
def test_a_bend_grows_from_nothing_without_a_step(bend: str) -> None:
    assert _bend(bend, 0) == (0.0, 0.0, "", "no turn")
    assert _bend(bend, 1e-7).k_inf < 1e-3
    assert _bend(bend, 1e-7).k_re < 1e-5
    turns = [_bend(bend, degrees) for degrees in range(1, 181)]
    for less, more in pairwise(turns):
        assert less.k_re < more.k_re < less.k_re + 25
        assert less.k_inf < more.k_inf + 1e-3


@pytest.mark.parametrize("bend", ["threaded elbow", "mitre"])
def test_an_elbow_at_an_angle_of_no_row_says_so(bend: str) -> None:
    assert _bend(bend, 90).note == _bend(bend, 45).note == ""
    assert "in proportion" in _bend(bend, 30).note
    assert _bend(bend, 67.5).k_re == pytest.approx((_bend(bend, 45).k_re + _bend(bend, 90).k_re) / 2)


@given(st.floats(0.6, 100), st.floats(1, 180))
def test_a_bend_never_loses_less_than_its_own_arc_when_laminar(ratio: float, degrees: float) -> None:
    bore = 0.05
    bend = coefficients.bend_k("bent", ratio * bore, math.radians(degrees), bore, bore, 0.0)
    assert bend.k_re >= 64 * ratio * math.radians(degrees) * (1 - 1e-12)
    assert bend.k_re >= 800 * degrees / 90 * (1 - 1e-12)


def test_a_tighter_bend_than_a_tube_can_make_is_refused() -> None:
    with pytest.raises(FittingError, match="half the bore"):
        coefficients.bend_k("bent", 0.02, math.pi / 2, 0.05, 0.05, 0.0)


@given(st.floats(0.1, 0.999999))
def test_a_change_of_bore_vanishes_with_the_difference(beta: float) -> None:
    for d_in, d_out in ((0.1, 0.1 * beta), (0.1 * beta, 0.1)):
        k = coefficients.bore_change_k(d_in, d_out)
        assert 0 <= k.k_inf <= 1.2 * (1 - beta**2)
        assert 0 <= k.k_re <= 800 * (1 - beta) / beta
    assert coefficients.bore_change_k(0.1, 0.1)[:2] == (0.0, 0.0)


@given(st.floats(0.2, 0.95), st.floats(0.05, 1.5))
def test_a_cone_loses_less_than_a_step(beta: float, angle: float) -> None:
    step, cone = (
        coefficients.bore_change_k(0.1, 0.1 * beta),
        coefficients.bore_change_k(0.1, 0.1 * beta, angle),
    )
    assert cone.k_re < step.k_re
    if angle > 0.2:  # a very long cone loses more by the friction of its wall
        assert cone.k_inf < step.k_inf


@pytest.mark.parametrize("angle", [math.radians(20.0), math.radians(90.0), math.pi])
def test_a_narrowing_takes_more_in_laminar_flow_and_nothing_where_it_hardly_narrows(angle: float) -> None:
    """By limits: no narrowing takes nothing, a deeper one more, and never less than in turbulent flow."""
    slow = [coefficients.bore_change_k(0.1, 0.1 * beta, angle) for beta in (0.999999, 0.9, 0.7, 0.5, 0.2)]
    figures = [coefficients.in_slow_flow(each) for each in slow]
    assert figures[0] == pytest.approx(0.0, abs=1e-4)
    assert figures == sorted(figures)
    assert all(each.k_slow >= each.k_inf for each in slow)


def test_a_bore_change_has_no_step_where_laminar_flow_ends() -> None:
    """A line of 82 mm before a port of 52 mm, from Re 1900 to 7000 in the port's bore."""
    layout = drawing(pump(bore=0.052), intake(bore=0.082), run("riser", "strainer", "pump", bore=0.082))
    k = []
    for reynolds in np.arange(1900.0, 7000.0, 10.0):
        viscosity = 4 * 0.002 / (math.pi * 0.052 * reynolds)
        fluid = replace(layout.fluid, viscosity=Quantity("typed", viscosity))
        (change,) = (
            each
            for each in solve(replace(layout, fluid=fluid)).pumps["pump"].entries
            if each.kind == "bore change"
        )
        k.append(change.k)
    assert k[0] > 1.0 > 0.5 > k[-1]
    assert max(abs(after - before) for before, after in pairwise(k)) < 0.01
