"""The pressure profile on paper says whose it is."""

from __future__ import annotations

import pytest

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
