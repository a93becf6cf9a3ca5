"""The pressure profile on paper: its axes have round figures, and it says whose it is."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketch.page.sheet_profile import ticks
from tests.sketch.sheets import options_of, pages, written

pytestmark = pytest.mark.usefixtures("qapp")


@given(st.floats(-500, 500), st.floats(0.01, 2000), st.integers(2, 9))
def test_ticks_are_round_in_order_and_not_too_many(low: float, width: float, most: int) -> None:
    marks = ticks(low, low + width, most)
    assert len(marks) <= most + 1
    assert all(low - 1e-6 * width <= value <= low + width * (1 + 1e-6) for value in marks)
    steps = {round((after - before) / width, 6) for before, after in pairwise(marks)}
    assert len(steps) <= 1


def test_the_profile_is_of_the_worst_case_before_and_after() -> None:
    page = next(page for page in pages(written("winter-press", compared=True)) if "Developed length" in page)
    assert 'As drawn: press, "first stroke"' in page
    assert 'Tank heater to 10 °C: press, "first stroke"' in page
    worst = options_of("winter-press")[0].worst()
    assert worst is not None
    assert "Over by 5.8 inHg" in page
    assert "Developed length from the intake" in page
