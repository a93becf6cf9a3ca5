"""Texts and dimensions as values."""

from __future__ import annotations

from solver.layout.remarks import Direction, OwnDimension
from solver.quantities.units import Kind, quantity


def test_a_part_under_another_name_is_followed() -> None:
    zero = quantity("0 ft", Kind.LENGTH)
    dimension = OwnDimension("a", (zero, zero), Direction.UP, zero)
    assert dimension.with_part_named("a", "b").start == "b"
    assert dimension.with_part_named("b", "c") == dimension
