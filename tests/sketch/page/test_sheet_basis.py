"""The limits that a result rests on are named on the first page and behind it."""

from __future__ import annotations

import pytest

from sketch.page.sheet_basis import limit_words
from tests.sketch.sheets import options_of, pages, panel_of, written

pytestmark = pytest.mark.usefixtures("qapp")


def test_a_limit_is_named_as_its_maker_states_it_and_where_it_is_an_estimate() -> None:
    first, *others = limit_words(panel_of(options_of("winter-press")[0]))
    assert first.startswith("the maker's limit of press: ")
    assert others == ["press: the limit is an estimate from the maker's figure for another fluid or speed"]


def test_what_the_first_page_has_no_room_for_stands_behind_it() -> None:
    _, *behind = pages(written("winter-press", compared=True))
    for text in limit_words(panel_of(options_of("winter-press")[0])):
        assert f"Limit: {text[:1].upper()}{text[1:]}." in " ".join(behind)
