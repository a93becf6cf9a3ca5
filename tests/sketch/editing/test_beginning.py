"""Drawings to begin with."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.editing import beginning, building, edits
from solver.layout import file
from solver.layout.kinds import IntakeKind
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, quantity


@pytest.mark.parametrize("system", System)
def test_a_new_drawing_is_calculated_and_says_whose_figures_it_has(system: System) -> None:
    new = beginning.begin(system)
    assert not file.check(new)
    assert solve(new).pumps["pump"].margin > 0
    assert new.pumps["pump"].limit_assumed
    assert new.notes == beginning.NOTES
    assert beginning.without_note(new).notes == ""
    assert not file.check(beginning.empty(system))


def test_the_note_goes_with_the_last_round_figure() -> None:
    new = beginning.begin(System.SI)
    pump = replace(
        new.pumps["pump"], limit_assumed=False, displacement=quantity("33 cm^3/rev", Kind.DISPLACEMENT),
        speed=quantity("1450 rpm", Kind.SPEED),
    )  # fmt: skip
    with_pump = edits.with_joint(new, pump)
    assert beginning.drop_note(with_pump).notes == beginning.NOTES
    strainer = with_pump.intakes["strainer"]
    screen = replace(strainer.screen, area=quantity("700 cm^2", Kind.AREA))
    assert beginning.drop_note(edits.with_joint(with_pump, replace(strainer, screen=screen))).notes == ""


def test_what_is_assumed_is_named_part_by_part_until_it_is_typed() -> None:
    new = beginning.begin(System.SI)
    words = beginning.assumed_figures(new)
    assert words.startswith("Assumed so far: the limit of pump, the screen of strainer. Double-click")
    stated = edits.with_joint(new, replace(new.pumps["pump"], limit_assumed=False))
    assert beginning.assumed_figures(stated).startswith("Assumed so far: the screen of strainer. ")
    strainer = stated.intakes["strainer"]
    assert strainer.screen is not None
    own = replace(strainer, screen=replace(strainer.screen, assumed=False))
    assert beginning.assumed_figures(edits.with_joint(stated, own)) == ""
    assert beginning.assumed_figures(beginning.empty(System.SI)) == ""


@pytest.mark.parametrize("system", System)
def test_every_starter_is_calculated_with_limits_that_say_they_are_assumed(system: System) -> None:
    for starter in beginning.STARTERS[1:]:
        layout = starter.make(system)
        assert not file.check(layout)
        assert all(ledger.margin > 0 for ledger in solve(layout).pumps.values()), starter.name
        assert all(pump.limit_assumed for pump in layout.pumps.values())
        assert "Round figures" in layout.notes
        assert ("strainer" in layout.notes) == any(part.screen for part in layout.intakes.values())
        heights = [pump.at[1].si for pump in layout.pumps.values()]
        assert (max(heights) > layout.reservoirs["tank"].minimum_level.si) == ("above" in starter.name)


def test_an_unfinished_drawing_says_what_comes_next_until_it_can_be_calculated() -> None:
    layout = beginning.empty(System.SI)
    for said, what, at in (
        ("Tank", building.TANK, (0.6, 0.0)),
        ("Strainer", IntakeKind.STRAINER, (0.3, 0.3)),
        ("the pump", building.PUMP, (1.0, 1.0)),
    ):
        assert said in beginning.next_step(layout)
        layout = building.add(layout, what, *at).layout
    assert "then strainer, each corner, and pump" in beginning.next_step(layout)
    layout = building.add_line(layout, "strainer", "pump", ((0.3, 1.0),)).layout
    assert beginning.next_step(layout) == ""
    assert solve(layout).pumps
