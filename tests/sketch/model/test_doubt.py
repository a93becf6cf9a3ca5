"""How sure the margin is: off until asked for, and of the very drawing that is shown."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.document import Document
from sketch.model.doubt import ENDS, MarginBand, doubt
from solver.answers.uncertainty import uncertainty
from solver.quantities.units import System

CARRIAGE = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"


@pytest.fixture
def document() -> Document:
    opened = Document(keeps=False)
    opened.open(CARRIAGE)
    return opened


@pytest.mark.thorough
def test_it_is_off_until_asked_for_and_then_that_of_the_case_in_view(
    qtbot: QtBot, document: Document
) -> None:
    kept = doubt(document)
    assert doubt(document) is kept
    document.set_case("coldest start")
    qtbot.wait(300)
    assert kept.band is None
    kept.toggle()
    qtbot.waitUntil(lambda: kept.band is not None, timeout=15000)
    assert document.solution is not None
    drawn = uncertainty(document.solution.layout, document.pump, document.solution.level)
    assert kept.band == MarginBand(*(drawn.quantiles(*ENDS) or ()))
    assert document.ledger is not None
    assert kept.band.low < document.ledger.margin < kept.band.high
    assert kept.pressures is not None
    port = document.ledger.entries[-1]
    low, high = kept.pressures.after[port.key]
    assert low < port.pressure < high
    document.apply("Warm", edits.set_temperature(document.layout, 325.0))
    document.set_case("as drawn")
    assert kept.band is None, "it belongs to another drawing by now"
    qtbot.waitUntil(lambda: kept.band is not None, timeout=15000)
    kept.toggle()
    assert kept.band is None


def test_a_band_is_said_with_signs_and_one_unit() -> None:
    band = MarginBand(-5000.0, 1000.0)
    assert band.in_short(System.SI) == "−5.00 to 1.00 kPa"
    assert band.in_words(System.SI) == "90 of 100 trials: margin −5.00 to 1.00 kPa"


@pytest.mark.thorough
def test_where_no_draw_can_be_solved_it_says_so(
    qtbot: QtBot, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    def none(*given: object) -> object:
        return replace(sound(*given, draws=3), margin=np.full(3, np.nan))

    sound = uncertainty
    monkeypatch.setattr("solver.answers.uncertainty.uncertainty", none)
    kept = doubt(document)
    with qtbot.waitSignals([kept.changed] * 2, timeout=15000):
        kept.toggle()
    assert (kept.band, kept.pressures) == (None, None)
    assert kept.trouble == "no trial could be solved"
