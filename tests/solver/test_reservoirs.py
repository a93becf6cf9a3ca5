"""What lies in a reservoir, against areas and places worked out by hand."""

from dataclasses import replace

import pytest

from solver import reservoirs
from tests.solver.drawing import drawing, intake, metres, point, pump, run, tank


def problems(*parts):
    return reservoirs.reservoir_problems(drawing(*parts))


def test_volume_under_a_level():
    assert reservoirs.volume(tank(), 0.4) == pytest.approx(1.2 * 0.4 * 0.6)
    assert reservoirs.volume(tank(), -0.1) == 0.0
    assert reservoirs.volume(tank(), 5.0) == pytest.approx(1.2 * 0.7 * 0.6)


def test_a_sloped_floor_holds_less():
    sloped = replace(tank(), outline=tuple(map(point, [(0, 0), (1.2, 0.3), (1.2, 0.7), (0, 0.7)])))
    assert reservoirs.volume(sloped, 0.3) == pytest.approx(0.5 * 1.2 * 0.3 * 0.6)


def test_a_sump_in_the_floor_makes_two_rings_when_low():
    two = [(0, 0), (0.4, 0), (0.4, 0.3), (0.8, 0.3), (0.8, 0), (1.2, 0), (1.2, 0.7), (0, 0.7)]
    stepped = replace(tank(), outline=tuple(map(point, two)))
    assert len(reservoirs.fluid_outline(stepped, 0.2)) == 2
    assert len(reservoirs.fluid_outline(stepped, 0.5)) == 1


def test_the_level_in_use():
    assert reservoirs.level(tank(), "minimum") == 0.4
    assert reservoirs.level(tank(), "normal") == 0.55


def test_an_intake_on_the_wall_is_inside():
    assert problems(intake(at=(1.2, 0.2), kind="wall nozzle")) == []


def test_an_intake_outside_is_refused_by_name():
    ((part, text),) = problems(intake(at=(1.3, 0.2)))
    assert part == "strainer"
    assert "lies outside tank, at 1.3" in text


def test_an_intake_above_the_level_in_use_is_named():
    layout = drawing(intake(at=(0.9, 0.5)))
    assert problems(intake(at=(0.9, 0.5))) == []
    assert reservoirs.intakes_above(layout, "normal") == ()
    ((part, text),) = reservoirs.intakes_above(layout, "minimum")
    assert part == "strainer"
    assert "above the minimum level of tank" in text


@pytest.mark.parametrize(
    ("changes", "text"),
    [
        ({"normal_level": metres(0.71)}, "normal level 0.710 m is above the rim"),
        ({"minimum_level": metres(-0.1)}, "minimum level -0.100 m is under the floor"),
        ({"minimum_level": metres(0.6)}, "minimum level is above its normal level"),
        ({"outline": tuple(map(point, [(0, 0), (1, 1), (1, 0), (0, 1)]))}, "outline crosses itself"),
    ],
)
def test_a_reservoir_that_cannot_be_is_refused(changes, text):
    found = problems(replace(tank(), **changes))
    assert [part for part, _ in found if part == "tank"]
    assert any(text in said for _, said in found)


def test_where_a_run_passes_the_walls():
    lead = run("lead", "strainer", "pump", via=[(0.9, 1.0), (1.8, 1.0)])
    layout = drawing(pump(at=(1.8, 0.2)), lead)
    assert reservoirs.wall_crossings(layout, lead) == (("tank", (pytest.approx(0.9), pytest.approx(0.7))),)


def test_a_run_through_two_walls_meets_them_in_order():
    far = tank("far", at=(2.0, 0.0))
    lead = run("lead", "strainer", "pump")
    layout = drawing(tank(), far, intake(at=(0.9, 0.2)), pump(at=(4.0, 0.2)), lead)
    found = reservoirs.wall_crossings(layout, lead)
    assert [name for name, _ in found] == ["tank", "far", "far"]
    assert [x for _, (x, _) in found] == pytest.approx([1.2, 2.0, 3.2])
