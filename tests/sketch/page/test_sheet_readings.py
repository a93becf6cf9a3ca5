"""Readings on the sheet, where they are asked for: what was read, what is expected, what explains it."""

from __future__ import annotations

import pytest

from solver.field.compared import compare
from solver.field.diagnosis import diagnose
from solver.quantities.units import System
from tests.sketch.sheets import drawing, words, written

pytestmark = pytest.mark.usefixtures("qapp")

YEAR = "strainer-over-a-year"
READINGS = frozenset(["readings"])


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


def test_without_readings_or_unasked_there_is_no_such_part() -> None:
    assert "Readings Caution:" not in words(written(YEAR))
    assert "Readings Caution:" not in words(written("wash-water-npsh", parts=READINGS))


def _squeezed(text: str) -> str:
    return "".join(text.split())
