"""Texts and dimensions as values."""

from __future__ import annotations

from solver.layout.remarks import Direction, OwnDimension, TankCorner
from solver.quantities.units import Kind, quantity


def test_a_part_under_another_name_is_followed() -> None:
    zero = quantity("0 ft", Kind.LENGTH)
    dimension = OwnDimension("a", (zero, zero), Direction.UP, zero)
    assert dimension.with_part_named("a", "b").start == "b"
    assert dimension.with_part_named("b", "c") == dimension


def test_a_corner_goes_by_the_name_of_its_tank_and_is_no_part() -> None:
    zero = quantity("0 ft", Kind.LENGTH)
    dimension = OwnDimension(TankCorner("a", 2), "a", Direction.UP, zero)
    assert dimension.with_part_named("a", "b").start == TankCorner("b", 2)
    assert dimension.with_part_named("a", (zero, zero)).start == TankCorner("a", 2)
    assert dimension.with_ends(lambda end: "x").end == "x"
