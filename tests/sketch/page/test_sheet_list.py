"""The parts list on the page: the drawing and the alternative beside it, then what the others change."""

from __future__ import annotations

import pytest

from sketch.page.sheet_list import items_of
from solver.quantities.units import System
from tests.sketch.sheets import options_of, words, written

pytestmark = pytest.mark.usefixtures("qapp")


def test_every_item_of_the_drawing_stands_in_the_table_with_its_size() -> None:
    text = words(written("winter-press", compared=True))
    text = text[text.index("Parts list Item") :]
    items = items_of(options_of("winter-press")[0])
    assert items
    for item in items:
        what = f"{item.what[0].upper()}{item.what[1:]}"
        assert f"{what} {item.size_in(System.US)} {item.amount_in(System.US)}" in text


@pytest.mark.thorough
def test_every_item_stands_in_the_table_with_its_amount_before_and_after() -> None:
    text = words(written("header-two-pumps", compared=True))
    text = text[text.index("Parts list Item") :]
    base, alone, larger = options_of("header-two-pumps")
    after = {item.key: item for item in items_of(larger)}
    for item in items_of(base):
        then = after.get(item.key)
        amount = "\N{EN DASH}" if then is None else then.amount_in(System.US)
        what = f"{item.what[0].upper()}{item.what[1:]}"
        assert f"{what} {item.size_in(System.US)} {item.amount_in(System.US)} {amount}" in text
    assert f"{alone.title} takes away: 0.50 ft of commercial steel NPS 2 schedule 40" in text
