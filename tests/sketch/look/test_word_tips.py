"""Where the pointer rests on a word of column or drawing, its meaning comes up."""

from __future__ import annotations

from html import unescape
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QHelpEvent
from PySide6.QtWidgets import QApplication, QToolTip, QWidget
from pytestqt.qtbot import QtBot

from sketch.air_column.column import AirColumn
from sketch.canvas.elevation import Elevation
from sketch.look.glossary import WORDS
from sketch.look.words import without_no_break
from sketch.model.document import Document
from sketch.views.ledger_view import LedgerView

CARRIAGE = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"


def rest(widget: QWidget, x: float, y: float, monkeypatch: pytest.MonkeyPatch) -> str:
    """The tip that a resting pointer brings up; "" for none."""
    shown: list[str] = []
    monkeypatch.setattr(QToolTip, "showText", lambda *given: shown.append(given[1]))
    place = QPoint(round(x), round(y))
    QApplication.sendEvent(widget, QHelpEvent(QEvent.Type.ToolTip, place, widget.mapToGlobal(place)))
    return unescape(without_no_break(shown[0])) if shown else ""


def test_words_of_column_legend_and_ledger_are_explained(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    document = Document(keeps=False)
    document.open(CARRIAGE)
    column, sheet = AirColumn(document), Elevation(document)
    for widget, size in ((column, (340, 560)), (sheet, (1000, 500))):
        qtbot.addWidget(widget)
        widget.resize(*size)
        with qtbot.waitExposed(widget):
            widget.show()
        widget.repaint()
    for text, word in (
        ("floor", "Floor"),
        ("kept to fill", "Kept to fill the pump"),
        ("carriage, velocity", "Velocity head"),
    ):
        label = next(each for each in column.drawn.labels if text in each.text)
        tip = rest(column, label.box.x + 5, label.box.y + label.box.height / 2, monkeypatch)
        assert WORDS[word][:40] in tip
    for kind, words in (
        ("legend", ("Share", "Given back", "Over budget")),
        ("limit", ("Highest port",)),
    ):
        label = next((each for each in sheet.picture.labels if each.kind == kind), None)
        if label is not None:
            tip = rest(sheet, label.box.x + 5, label.box.y + label.box.height / 2, monkeypatch)
            assert all(WORDS[word][:40] in tip for word in words)
    assert rest(sheet, 3, 3, monkeypatch) == ""


def test_the_ledger_explains_screen_and_entrance_in_its_rows(qtbot: QtBot) -> None:
    document = Document(keeps=False)
    document.open(CARRIAGE)
    view = LedgerView(document)
    qtbot.addWidget(view)
    view.refresh()
    rows = {row.name: at for at, row in enumerate(view.ledger.rows)}
    for name, word in (("screen", "Entrance, screen"), ("velocity head", "Velocity head")):
        tip = view.ledger.data(view.ledger.index(rows[name], 0), Qt.ItemDataRole.ToolTipRole)
        assert WORDS[word][:40] in unescape(without_no_break(str(tip)))
