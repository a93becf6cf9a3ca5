"""The reach map on paper: only where it is asked for, and it says whose it is and what it means."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pypdfium2
import pytest

from sketch.look.colours import LIGHT
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


def _first_page(path: Path) -> int:
    """On which page the maps begin, counted from 0."""
    return next(at for at, page in enumerate(pages(path)) if at and TITLE in page)


def _box(text: pypdfium2.PdfTextPage, words: str) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of the last place where these words stand [pt]."""
    places, search = [], text.search(words)
    while place := search.get_next():
        places.append(place)
    start, count = places[-1]
    boxes = np.array([text.get_charbox(at) for at in range(start, start + count)])
    return *boxes.min(axis=0)[:2], *boxes.max(axis=0)[2:]


def test_no_line_of_the_map_goes_through_a_text() -> None:
    path = written("wash-water-npsh", paper="Letter", compared=True, parts=frozenset({"reach map"}))
    with pypdfium2.PdfDocument(path) as document:
        page = document[_first_page(path)]
        picture = page.render(scale=3.0).to_numpy()[:, :, 2::-1].astype(int)
        high = page.get_height()
        for words in ("highest port 2.24", "normal level \u22120.700"):
            left, bottom, right, top = (3.0 * each for each in _box(page.get_textpage(), words))
            shown = picture[round(3.0 * high - top) : round(3.0 * high - bottom), round(left) : round(right)]
            for colour in (LIGHT.caution, LIGHT.limit) if words.startswith("normal") else (LIGHT.caution,):
                assert not (np.abs(shown - colour.getRgb()[:3]) < 24).all(axis=2).any()


def test_maps_are_as_high_as_a_page_has_room_for() -> None:
    """What stands behind them may begin a page of its own."""
    parts = frozenset({"curves", "reach map", "card"})
    path = written("over-the-bund-wall", paper="A4", upright=True, compared=True, parts=parts)
    with pypdfium2.PdfDocument(path) as document:
        page = document[_first_page(path)]
        foot = _box(page.get_textpage(), "Port of transfer there")[1]
        assert foot < 0.3 * page.get_height()
