"""The reach map on paper: only where it is asked for, and it says whose it is and what it means."""

from __future__ import annotations

import pytest

from tests.sketch.sheets import ALL_PARTS, pages, written

pytestmark = pytest.mark.usefixtures("qapp")

TITLE = "Where the port may stand"


def test_it_stands_on_a_sheet_only_where_it_is_asked_for_and_says_whose_it_is() -> None:
    assert not any(TITLE in page for page in pages(written("carriage-at-altitude")))
    page_list = pages(written("carriage-at-altitude", compared=True, parts=ALL_PARTS))
    page = next(page for page in page_list[1:] if TITLE in page)
    assert "The drawing itself: carriage" in page
    assert "Pump beside the tank: carriage" in " ".join(page_list)
    assert "Port of carriage there, the worst of 2 cases: within thin margin over not judged" in page
