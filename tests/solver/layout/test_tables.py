"""Tables that stand inside a part."""

from __future__ import annotations

import pytest

from solver.layout.file import parse
from solver.layout.parts import Curve, Layout, Opening
from solver.quantities.units import Kind, quantity
from tests.drawings import ARRANGEMENTS, EVERY_KEY, RISER
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


@pytest.mark.parametrize(
    ("typed", "instead"),
    [
        ("5 psig", 'at sea level this is "19.6959 psi abs"'),
        ("0.3 bar gauge", 'at sea level this is "1.31325 bar abs"'),
        ("0.3 bar(g)", 'at sea level this is "1.31325 bar abs"'),
        ("-0.2 bar", 'in its place vacuum = "0.2 bar"'),
        ("-3 psig", 'in its place vacuum = "3 psi"'),
    ],
)
def test_a_least_pressure_over_the_atmosphere_is_refused_with_what_it_comes_to(
    typed: str, instead: str
) -> None:
    """ "5 psig" was sent back for "psi", which as an absolute pressure lets a boosted pump draw a vacuum."""
    (problem,) = problems(RISER.replace('vacuum = "7 inHg"', f'pressure = "{typed}"'))
    assert instead in problem.allowed
    assert "absolute" in problem.allowed
    table = f'pressure = [["1200 rpm", "{typed}"], ["1800 rpm", "1.9 bar"]]'
    (problem,) = problems(RISER.replace('vacuum = "7 inHg"', table))
    assert instead in problem.allowed


def test_an_absolute_limit_may_say_so() -> None:
    for typed, pascals in (("0.8 bar", 80e3), ("0.8 bara", 80e3), ("12 psia", 82737.0)):
        layout = parse(RISER.replace('vacuum = "7 inHg"', f'pressure = "{typed}"')).base
        (_, figure) = layout.pumps["carriage"].limit.table[0]
        assert figure.si == pytest.approx(pascals, rel=1e-5)
