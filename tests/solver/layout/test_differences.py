"""What differs between two drawings, in the words of their parts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.geometry import moving
from solver.layout.differences import differences
from solver.layout.parts import Layout
from solver.quantities.units import Kind, quantity
from tests.solver.fixes.test_fixes import LAYOUTS

BASE = LAYOUTS["carriage-at-altitude"]


@pytest.mark.parametrize("name", LAYOUTS)
def test_a_drawing_does_not_differ_from_itself(name: str) -> None:
    assert differences(LAYOUTS[name], LAYOUTS[name]) == ()


def test_a_size_is_named_with_the_one_before() -> None:
    riser = replace(BASE.runs["riser"], size="NPS 3 schedule 40")
    told = differences(BASE, replace(BASE, runs={**BASE.runs, "riser": riser}))
    assert told == (f"riser: size NPS 3 schedule 40 for {BASE.runs['riser'].size}",)


def test_a_part_that_is_moved_takes_its_line_along() -> None:
    pump = BASE.pumps["carriage"]
    told = differences(BASE, moving.move_part(BASE, "carriage", pump.at[0].si, pump.at[1].si - 0.1))
    assert "carriage: moved" in told
    assert all("moved" in each or "other corners" in each for each in told)


def with_fluid(layout: Layout, temperature: str) -> Layout:
    return replace(layout, fluid=replace(layout.fluid, temperature=quantity(temperature, Kind.TEMPERATURE)))


def test_the_fluid_the_screen_and_what_is_new_or_gone() -> None:
    assert differences(BASE, with_fluid(BASE, "50 degC")) == (
        f"fluid: temperature 50 degC for {BASE.fluid.temperature.text}",
    )
    strainer = BASE.intakes["strainer"]
    assert strainer.screen is not None
    bare = replace(BASE, intakes={"strainer": replace(strainer, kind="plain end", screen=None)})
    (told,) = differences(BASE, bare)
    assert told.startswith("strainer: kind plain end for strainer, without screen")
    (back,) = differences(bare, BASE)
    assert back == "strainer: kind strainer for plain end, with screen"
    beside = LAYOUTS["carriage-at-altitude: Pump beside the tank"]
    assert any(each.startswith("new: ") for each in differences(BASE, beside))
    assert any(each.startswith("without ") for each in differences(BASE, beside))


@pytest.mark.parametrize("name", [name for name in LAYOUTS if ":" in name])
def test_every_alternative_differs_from_its_drawing_in_words(name: str) -> None:
    told = differences(LAYOUTS[name.partition(":")[0]], LAYOUTS[name])
    assert told
    assert all("{" not in each and "[" not in each for each in told)


def test_a_figure_that_goes_back_to_its_default_is_named_not_called_gone() -> None:
    told = differences(BASE, LAYOUTS["carriage-at-altitude: Three-inch suction line"])
    assert any("bend long radius for threaded elbow" in each for each in told)
    assert not any("without bend" in each for each in told)


def test_what_decides_most_comes_first() -> None:
    """The fluid, then where the pump stands, then levels, then sizes, then what is new or gone."""
    pump = BASE.pumps["carriage"]
    tank = next(iter(BASE.reservoirs.values()))
    moved = moving.move_part(with_fluid(BASE, "50 degC"), "carriage", pump.at[0].si, pump.at[1].si - 0.1)
    level = quantity("0.5 m", Kind.LENGTH)
    reservoirs = {**BASE.reservoirs, tank.name: replace(tank, minimum_level=level)}
    riser = replace(moved.runs["riser"], size="NPS 3 schedule 40")
    after = replace(moved, reservoirs=reservoirs, runs={**moved.runs, "riser": riser})
    told = differences(BASE, after)
    assert [each.partition(":")[0] for each in told[:4]] == ["fluid", "carriage", tank.name, "riser"]
    beside = differences(BASE, LAYOUTS["carriage-at-altitude: Pump beside the tank"])
    assert beside[0].startswith("carriage: moved")
    sizes = [number for number, each in enumerate(beside) if "size " in each and not each.startswith("new")]
    assert sizes
    assert all(number < beside.index("without strainer") for number in sizes)
