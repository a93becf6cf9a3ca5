"""The drawing beside its alternatives: figures of their own solves, shown by a click."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.document import Document
from sketch.views import comparison
from sketch.views.alternatives_view import CHANGE, MARGIN, AlternativesView
from solver.quantities.units import System

CARRIAGE = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"
BESIDE = "Pump beside the tank"


@pytest.fixture
def document() -> Document:
    made = Document()
    made.open(CARRIAGE)
    return made


@pytest.fixture
def view(qtbot: QtBot, document: Document) -> AlternativesView:
    made = AlternativesView(document)
    qtbot.addWidget(made)
    made.resize(1100, 240)
    with qtbot.waitExposed(made):
        made.show()
    return made


def test_an_alternative_that_is_over_when_cold_is_marked_and_says_so(qtbot: QtBot) -> None:
    document = Document()
    document.open(CARRIAGE.parent / "baler-flooded.toml")
    row = next(row for row in comparison.rows(document) if row.name.startswith("Filter"))
    assert row.margin > 0
    assert row.mark == "stop"
    assert row.verdict.startswith("Over by ")


def test_click_shows_an_alternative(qtbot: QtBot, view: AlternativesView, document: Document) -> None:
    at = next(row for row in range(view.rowCount()) if view.item(row, 0).text() == BESIDE)
    spot = view.visualItemRect(view.item(at, MARGIN)).center()
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    assert document.alternative == BESIDE
    qtbot.waitUntil(lambda: view.item(at, 0).font().bold(), timeout=3000)
    assert view.item(at, CHANGE).text().startswith("+")
    assert not view.item(0, 0).font().bold()


def test_units_follow_and_figures_are_worked_out_at_rest(
    qtbot: QtBot, view: AlternativesView, document: Document
) -> None:
    us = float(view.item(1, MARGIN).text().replace("−", "-"))
    document.set_system(System.SI)
    qtbot.waitUntil(lambda: "kPa" in view.horizontalHeaderItem(MARGIN).text(), timeout=3000)
    assert float(view.item(1, MARGIN).text().replace("−", "-")) == pytest.approx(us * 3.386, abs=0.03)


def test_hidden_table_solves_nothing(view: AlternativesView, document: Document, qtbot: QtBot) -> None:
    view.hide()
    held = view._rows
    document.apply("Warm", edits.set_temperature(document.layout, 325.0))
    qtbot.wait(300)
    assert view._rows is held
    view.show()
    assert view._rows is not held
