"""Bores, nominal sizes and the radius of bends."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.geometry.radii import bend_radius, bore, nominal
from solver.layout.kinds import Bend
from tests.drawings import run


@pytest.mark.parametrize(
    ("bend", "diameters"), [(Bend.LONG_RADIUS, 1.5), (Bend.SHORT_RADIUS, 1.0), (Bend.MITRE, 0.0)]
)
def test_a_bought_bend_goes_by_the_nominal_size(bend: Bend, diameters: float) -> None:
    two_inch = replace(
        run("lead", "strainer", "pump"), bore=None, size="NPS 2 schedule 40", bend=bend, bend_radius=None
    )
    assert bend_radius(two_inch) == pytest.approx(diameters * nominal(two_inch))
    assert nominal(two_inch) == pytest.approx(2 * 0.0254, rel=0.02)
    assert bore(two_inch) == pytest.approx(0.0525, rel=1e-3)  # inside diameter of 2.067 in
