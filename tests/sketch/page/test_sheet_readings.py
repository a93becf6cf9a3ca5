"""Readings on the sheet, where they are asked for: what was read, what is expected, what explains it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sketch.page.options import option_of
from sketch.page.sheet import write_sheet
from sketch.page.sheet_parts import SheetWish
from solver.field.compared import compare
from solver.field.diagnosis import diagnose
from solver.layout.parts import Level
from solver.quantities.units import Kind, System, quantity
from tests.sketch.sheets import ALL_PARTS, DAY, drawing, pages, words, written

pytestmark = pytest.mark.usefixtures("qapp")

YEAR = "strainer-over-a-year"
READINGS = frozenset(["readings"])


@pytest.mark.thorough
def test_every_reading_stands_beside_what_is_expected_and_what_explains_it() -> None:
    layout = drawing(YEAR).base
    text = words(written(YEAR, parts=READINGS))
    text = text[text.index("Readings Caution:") :]
    for each in compare(layout, ""):
        assert f"{each.logged.when}, {each.logged.place}" in text
        assert _squeezed(each.words(System(layout.units))[0]) in _squeezed(text)
    for pump in dict.fromkeys(each.pump for each in layout.readings):
        diagnosis = diagnose(layout, pump, "")
        assert _squeezed(diagnosis.headline) in _squeezed(text)
        assert _squeezed(diagnosis.causes[0].name) in _squeezed(text)


@pytest.mark.thorough
def test_without_readings_or_unasked_there_is_no_such_part() -> None:
    assert "Readings Caution:" not in words(written(YEAR))
    assert "Readings Caution:" not in words(written("carriage-at-altitude", compared=True, parts=ALL_PARTS))


def test_a_newest_reading_that_says_stop_comes_first_on_the_first_page(tmp_path: Path) -> None:
    drawn = drawing(YEAR).base
    over = replace(drawn.readings[-1], vacuum=(quantity("21.3 kPa", Kind.VACUUM),))
    layout = replace(drawn, readings=(*drawn.readings[:-1], over))
    option = option_of("", "", layout, Level.MINIMUM, System.SI)
    write_sheet((option,), tmp_path / "stop.pdf", SheetWish(pages=1), date=DAY, file=tmp_path / "stop.toml")
    first = pages(tmp_path / "stop.pdf")[0]
    sentence = "21.3 kPa read at the port of feed on 2026-02-23, no more than 19.2 kPa is allowed there"
    short = "21.3 kPa read, 19.2 kPa allowed thereRead at the port of feed on 2026-02-23. As drawn: within:"
    assert _squeezed(f"Stop the pump{short}") in _squeezed(first)
    assert _squeezed(f"What speaks against it Stop the pump: {sentence}.") in _squeezed(first)
    assert "Nothing within the checks made" not in first
    alone = "By the drawing alone: No check found anything else to put right."
    keep = f"Keep the pump stopped until it is known what raised its reading. {alone}"
    assert _squeezed(f"Recommendation {keep} Order of work 1. With the pump stopped, look") in _squeezed(
        first
    )


def _squeezed(text: str) -> str:
    return "".join(text.split())
