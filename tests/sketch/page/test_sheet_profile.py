"""The pressure profile on paper says whose it is."""

from __future__ import annotations

import pytest

from sketch.drawing.labels import Box
from sketch.page.plot import Plot
from sketch.page.sheet_profile import _is_under
from sketch.views.profile import profile
from solver.ledger.solve import solve
from solver.quantities.units import System
from tests.drawings import twins
from tests.sketch.sheets import options_of, pages, written

pytestmark = pytest.mark.usefixtures("qapp")


def test_the_profile_is_of_the_worst_case_before_and_after() -> None:
    every = pages(written("winter-press", compared=True))
    page = " ".join(page for page in every if "Developed length" in page)
    assert 'The drawing itself: press, "first stroke"' in page
    assert 'Tank heater to 10 °C: press, "first stroke"' in page
    worst = options_of("winter-press")[0].worst()
    assert worst is not None
    assert "Over by 5.8 inHg" in page
    assert "Developed length from the intake" in page


def test_a_floor_is_named_under_its_line_only_where_the_pressure_stays_above_it() -> None:
    for flow, under in (("100 L/min", True), ("400 L/min", False)):
        shown = profile(solve(twins("24 kPa", flow)), "press", System.SI)
        (floor,) = (level for level in shown.levels if level.role == "floor")
        low = min(min(each.y0, each.y1) for each in shown.stretches)
        assert (low >= floor.y) is under
        plot = Plot(Box(0.0, 0.0, 300.0, 160.0), 0.0, 1.0, floor.y - 20.0, floor.y + 20.0)
        assert _is_under(shown, floor, plot, 15.0) is under
        assert not _is_under(shown, floor, plot, 100.0)  # no room over the foot
