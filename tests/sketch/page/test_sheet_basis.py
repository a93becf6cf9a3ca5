"""The limits that a result rests on are named on the first page and behind it."""

from __future__ import annotations

import re

import pytest

from sketch.page.sheet_basis import limit_words, maker_words, source_words
from solver.findings.criteria import TRADE
from solver.ledger.rounding import port_figures
from solver.quantities.units import Kind, System, number
from solver.report.budget_words import floor_in_words
from tests.sketch.sheets import options_of, pages, panel_of, written

pytestmark = pytest.mark.usefixtures("qapp")


def test_a_limit_is_named_as_its_maker_states_it_and_where_it_is_an_estimate() -> None:
    first, *others = limit_words(panel_of(options_of("winter-press")[0]), System.US)
    assert first.startswith("the maker's limit of press: ")
    assert others == ["press: the limit is an estimate from the maker's figure for another fluid or speed"]


def test_what_the_first_page_has_no_room_for_stands_behind_it() -> None:
    _, *behind = pages(written("winter-press", compared=True))
    for text in limit_words(panel_of(options_of("winter-press")[0]), System.US):
        assert f"Limit: {text[:1].upper()}{text[1:]}." in " ".join(behind)


def test_a_limit_typed_in_other_units_stands_in_those_of_the_sheet_first() -> None:
    first, *_ = limit_words(panel_of(options_of("winter-press")[0]), System.SI)
    assert first == "the maker's limit of press: 20.3 kPa of vacuum at 1800 rpm (typed as 6 inHg)"


def test_a_fact_of_the_trade_is_no_less_marked_in_words_for_a_client() -> None:
    said = source_words(f"geometry; its wide bore at least: {TRADE}")
    assert said == "geometry; its wide bore at least: common practice, without a published source"
    assert not any(TRADE in page for page in pages(written("header-two-pumps", compared=True)))


@pytest.mark.parametrize("system", [System.SI, System.US])
@pytest.mark.parametrize("name", ["over-the-bund-wall", "header-two-pumps"])
def test_what_is_allowed_follows_from_the_figures_beside_the_limit(name: str, system: System) -> None:
    """The air less the maker's figure was another one than what was allowed: the correction stood behind."""
    panel = panel_of(options_of(name)[0])
    (text,) = floor_in_words(panel.ledger, system)
    maker, correction, floor, allowed, air = (float(each) for each in re.findall(r"\d+\.\d+", text))
    assert "(density correction)" in text
    assert maker + correction == pytest.approx(floor, abs=1e-9)
    assert air - floor == pytest.approx(allowed, abs=1e-9)
    assert f"{allowed:.2f}" == number(port_figures(panel.ledger, system)[1], Kind.VACUUM, system, 2)
    assert text in " ".join(maker_words(panel, system, asked=True))
