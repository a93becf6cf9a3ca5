"""The wire that is offered for a mesh. Published openings: tests/published/test_screens.py."""

from __future__ import annotations

import pytest

from solver.properties import cloth


@pytest.mark.parametrize("mesh", cloth.MARKET_GRADE)
def test_a_listed_mesh_has_its_wire_and_opening(mesh: int) -> None:
    wire = cloth.MARKET_GRADE[mesh]
    text = cloth.typical_wire(mesh / cloth.INCH)
    assert text.startswith(f"{wire:g} in, ")
    opening = float(text.split()[-2])
    assert opening == pytest.approx((1 / mesh - wire) * 25.4, abs=0.005)


def test_no_wire_is_offered_for_a_mesh_that_is_not_listed() -> None:
    assert cloth.typical_wire(70 / cloth.INCH) == ""
    assert cloth.typical_wire(60.9 / cloth.INCH) == ""
