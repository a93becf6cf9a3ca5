"""Tables that stand inside a part."""

from __future__ import annotations

import pytest

from solver.layout.file import parse
from solver.layout.parts import Curve, Layout, Opening
from solver.quantities.units import Kind, quantity
from tests.drawings import ARRANGEMENTS


@pytest.fixture(scope="module")
def base() -> Layout:
    return parse(ARRANGEMENTS).base


def test_a_curve_has_its_points_and_their_fluid(base: Layout) -> None:
    curve = base.fittings["mixer"].curve
    assert isinstance(curve, Curve)
    assert [drop.si for _, drop in curve.drops] == [500.0, 1400.0]
    assert curve.density.text == "870 kg/m^3"


def test_valves_shut_and_part_open(base: Layout) -> None:
    assert base.fittings["shut"].closed
    assert not base.fittings["throttle"].closed
    assert base.fittings["throttle"].opening == Opening(kv=quantity("40 m^3/h", Kind.FLOW_COEFFICIENT_KV))
