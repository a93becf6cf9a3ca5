"""Figures of the case in view, in the place of the drawing's."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.editing import cases
from sketch.strip import in_case
from solver.layout.cases import AS_DRAWN, cases_of
from solver.layout.parts import Layout
from solver.quantities.units import Kind, quantity
from tests.solver.checking import lifted, with_pump

SPEED, FLOW, REST = (("pumps", "pump", key) for key in ("speed", "flow", "at_rest"))
PATHS = (SPEED, FLOW, REST)


@pytest.fixture(scope="module")
def layout() -> Layout:
    return with_pump(
        lifted(),
        displacement=quantity("80 cm^3/rev", Kind.DISPLACEMENT),
        speed=quantity("1500 rpm", Kind.SPEED),
        flow=None,
    )


def of_pump(layout: Layout, **figures: object) -> Layout:
    return cases.add(layout, "odd", {"pumps": {"pump": figures}})


def test_the_drawing_itself_has_no_figures_of_a_case(layout: Layout) -> None:
    odd = of_pump(layout, speed="900 rpm")
    assert in_case.path_in(odd, AS_DRAWN, PATHS) is None
    assert in_case.path_in(odd, "no such case", PATHS) is None
    assert in_case.path_in(odd, "odd", PATHS) == SPEED
    assert in_case.value(odd, "odd", SPEED).text == "900 rpm"


def test_what_is_at_rest_cannot_be_turned_and_what_is_not_can(layout: Layout) -> None:
    assert in_case.trouble(of_pump(layout, at_rest=True), "odd", PATHS) == "at rest in the case"
    assert in_case.trouble(of_pump(layout, at_rest=False), "odd", PATHS) == ""
    assert in_case.trouble(of_pump(layout, flow="20 L/min"), "odd", PATHS) == "the case has its flow"


def test_a_case_that_does_not_hold_is_not_turned(layout: Layout) -> None:
    by_flow = with_pump(layout, displacement=None, speed=None, flow=None)
    assert in_case.trouble(of_pump(by_flow, speed="900 rpm"), "odd", PATHS) == in_case.DOES_NOT_HOLD


def test_a_level_of_a_case_may_stand_anywhere_in_its_tank(layout: Layout) -> None:
    (name, tank), *_ = layout.reservoirs.items()
    path = ("levels", name)
    odd = cases.add(layout, "odd", {"levels": {name: tank.normal_level.text}})
    heights = [y.si for _, y in tank.outline]
    low, high = in_case.span(odd, "odd", path, None, name)  # type: ignore[arg-type]  # levels need none
    assert min(heights) < low < tank.minimum_level.si
    assert high == max(heights)
    set_to = in_case.with_text(odd, "odd", path, f"{high} m")
    assert cases_of(set_to)["odd"].figures[path].si == high
    assert replace(set_to, cases=odd.cases) == odd
