"""A drawing as a value: parts by name, and nothing that changes."""

from __future__ import annotations

from dataclasses import FrozenInstanceError, replace

import pytest

from solver.layout.parts import Case, FluidChoice, Layout, Screen
from solver.quantities.units import Kind, Quantity, quantity
from tests.drawings import drawing, fitting, intake, run, tee


@pytest.fixture
def layout() -> Layout:
    return drawing(
        intake(), tee("split", (0.9, 1.0)), fitting("v", (0.9, 0.8)), run("riser", "strainer", "v")
    )


def test_every_part_is_had_by_its_name(layout: Layout) -> None:
    for name in ("tank", "strainer", "pump", "split", "v", "riser"):
        assert layout.part(name).name == name
    with pytest.raises(KeyError, match="no such part"):
        layout.part("no such part")


@pytest.mark.parametrize("name", ["tank", "riser", "no such part"])
def test_a_run_ends_on_no_tank_and_on_no_run(layout: Layout, name: str) -> None:
    assert layout.joint("v").name == "v"
    with pytest.raises(KeyError, match=name):
        layout.joint(name)


def test_a_screen_is_had_by_the_name_of_its_part(layout: Layout) -> None:
    screen = Screen(blocked=0.25)
    strainer = replace(layout.intakes["strainer"], screen=screen)
    screened = replace(layout, intakes={"strainer": strainer})
    assert screened.screen("strainer") is screen
    assert screened.screen("v") is screened.screen("tank") is screened.screen("no such part") is None


def test_a_drawing_is_never_changed(layout: Layout) -> None:
    with pytest.raises(FrozenInstanceError):
        layout.title = "another"  # type: ignore[misc]
    assert replace(layout, title="another") != layout
    assert replace(layout, criteria_table="limits") == layout, "what the table is called draws nothing"


def test_one_viscosity_holds_at_its_temperature_alone() -> None:
    warm = quantity("45 degC", Kind.TEMPERATURE)
    thick = quantity("46 cSt", Kind.VISCOSITY)
    assert FluidChoice("oil", warm, viscosity=thick).has_one_viscosity
    assert not FluidChoice("oil", warm, viscosity=((warm, thick),)).has_one_viscosity
    assert not FluidChoice("oil", warm).has_one_viscosity


def test_a_valve_lets_nothing_pass_where_it_is_shut(layout: Layout) -> None:
    assert not layout.fittings["v"].closed
    assert replace(layout.fittings["v"], state="closed").closed


def test_a_note_that_is_no_text_is_none() -> None:
    assert Case({"note": "winter"}).note == "winter"
    assert Case({"note": Quantity("1 m", 1.0)}).note == ""
    assert Case().note == ""
