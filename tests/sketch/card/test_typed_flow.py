"""A flow typed for a pump with a displacement makes the displacement; what follows is shown as derived."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.card import typed_flow
from sketch.card.card_draft import changed
from sketch.card.typed_flow import with_displacement
from solver.layout import file
from solver.layout.kinds import PumpType
from solver.layout.parts import Layout
from solver.network.build import pump_flow
from solver.quantities.units import Kind, System, quantity
from tests.sketch.card.cards import LAYOUTS

CARRIAGE = "carriage"


@pytest.fixture
def layout() -> Layout:
    return file.read(LAYOUTS / "carriage-at-altitude.toml").base


def test_the_displacement_gives_the_flow_that_was_typed_and_goes_on_with_the_speed(layout: Layout) -> None:
    edited = changed(layout, CARRIAGE, {"flow": "60 L/min"}, System.US)
    pump = edited.pumps[CARRIAGE]
    assert pump.flow is None
    assert pump.displacement is not None
    assert pump.displacement.text.endswith("cm^3/rev"), "in the unit in which it was typed"
    assert pump_flow(pump) == pytest.approx(0.001, rel=1e-4)
    faster = changed(edited, CARRIAGE, {"speed": "2900 rpm"}, System.US)
    assert pump_flow(faster.pumps[CARRIAGE]) == pytest.approx(0.002, rel=1e-4)


def test_what_fills_less_than_its_displacement_needs_more_of_it(layout: Layout) -> None:
    half = replace(layout.pumps[CARRIAGE], volumetric_efficiency=0.5)
    layout = replace(layout, pumps={**layout.pumps, CARRIAGE: half})
    pump = changed(layout, CARRIAGE, {"flow": "60 L/min"}, System.US).pumps[CARRIAGE]
    assert pump.volumetric_efficiency == 0.5
    assert pump_flow(pump) == pytest.approx(0.001, rel=1e-4)


def test_a_bare_flow_is_in_the_unit_shown_and_a_speed_typed_with_it_counts(layout: Layout) -> None:
    draft = with_displacement(layout, CARRIAGE, {"flow": "60", "speed": "1000 rpm"}, System.SI)
    assert set(draft) == {"speed", "displacement"}
    assert quantity(str(draft["displacement"]), Kind.DISPLACEMENT).si == pytest.approx(60e-6)


@pytest.mark.parametrize("draft", [{"flow": ""}, {"flow": "much"}, {"flow": "0 gpm"}, {"speed": "900 rpm"},
                                   {"flow": "60 L/min", "displacement": ""}])  # fmt: skip
def test_what_is_no_flow_or_leaves_no_displacement_stays_as_typed(
    layout: Layout, draft: dict[str, str | bool]
) -> None:
    assert with_displacement(layout, CARRIAGE, draft, System.US) == draft


def test_a_flow_in_the_place_of_an_emptied_displacement_is_fixed(layout: Layout) -> None:
    pump = changed(layout, CARRIAGE, {"displacement": "", "flow": "60 L/min"}, System.US).pumps[CARRIAGE]
    assert pump.displacement is None
    assert pump.flow is not None
    assert pump.flow.text == "60 L/min"


def test_what_follows_from_the_other_is_said_to_be_derived(layout: Layout) -> None:
    pump = layout.pumps[CARRIAGE]
    assert typed_flow.derived(pump, System.SI) == {"flow": "= 119 L/min"}
    fixed = replace(pump, displacement=None, flow=quantity("60 L/min", Kind.FLOW))
    assert typed_flow.derived(fixed, System.SI) == {"displacement": "= 41.4 cm³/rev"}
    assert typed_flow.derived(replace(fixed, type=PumpType.CENTRIFUGAL), System.SI) == {}
    assert typed_flow.derived(replace(fixed, speed=None), System.SI) == {}
