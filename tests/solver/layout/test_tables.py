"""Tables that stand inside a part."""

from __future__ import annotations

import pytest

from solver.layout.file import parse
from solver.layout.parts import Curve, Layout, Opening
from solver.quantities.units import Kind, quantity
from tests.drawings import ARRANGEMENTS, EVERY_KEY
from tests.solver.layout.refused import problems


@pytest.fixture(scope="module")
def base() -> Layout:
    return parse(ARRANGEMENTS).base


def test_a_head_typed_as_a_drop_is_sent_to_its_own_key() -> None:
    (problem,) = problems(EVERY_KEY.replace('drop = "0.1 bar"', 'drop = "1.2 m"'))
    assert (problem.found, problem.allowed) == ('"1.2 m", a head', 'a pressure, or "head" in place of "drop"')


def test_a_curve_has_its_points_and_their_fluid(base: Layout) -> None:
    curve = base.fittings["mixer"].curve
    assert isinstance(curve, Curve)
    assert [drop.si for _, drop in curve.drops] == [500.0, 1400.0]
    assert curve.density.text == "870 kg/m^3"


def test_valves_shut_and_part_open(base: Layout) -> None:
    assert base.fittings["shut"].closed
    assert not base.fittings["throttle"].closed
    assert base.fittings["throttle"].opening == Opening(kv=quantity("40 m^3/h", Kind.FLOW_COEFFICIENT_KV))
