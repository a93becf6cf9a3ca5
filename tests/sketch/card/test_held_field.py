"""What is said of one field leaves the next one, which is clicked into, under the mouse."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from sketch.card.part_card import PartCard
from sketch.model.document import Document
from tests.sketch.card.cards import show
from tests.sketch.shown import shown


@pytest.fixture
def card(qtbot: QtBot, document: Document) -> PartCard:
    return shown(qtbot, PartCard(document), 700, 260)


def editor(card: PartCard, key: str) -> QLineEdit:
    edit = card.fields[key].edit
    assert isinstance(edit, QLineEdit)
    return edit


def test_a_refusal_does_not_move_the_field_that_is_clicked_into(
    qtbot: QtBot, card: PartCard, document: Document
) -> None:
    show(qtbot, card, document, "riser")
    keys = list(card.fields)
    above, below = editor(card, "bore"), editor(card, keys[keys.index("bore") + 2])
    above.setFocus()
    above.selectAll()
    qtbot.keyClicks(above, "wide")
    QApplication.processEvents()
    place = below.mapTo(card, QPoint())
    assert place.y() > above.mapTo(card, QPoint()).y()
    QTest.mousePress(below, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: bool(card.fields["bore"].trouble.text()))
    for _ in range(3):
        QApplication.processEvents()
    QTest.mouseRelease(below, Qt.MouseButton.LeftButton)
    assert below.hasFocus()
    assert below.mapTo(card, QPoint()) == place
    qtbot.keyClick(below, Qt.Key.Key_Escape)
    assert not card.pending
    qtbot.waitUntil(lambda: card._sheet.minimumHeight() == 0)
