"""Cards to type in."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from sketch.card.part_card import PartCard
from sketch.model.document import Document

LAYOUTS = Path(__file__).parents[3] / "layouts"


def show(qtbot: QtBot, card: PartCard, document: Document, part: str) -> None:
    document.select(part)
    qtbot.waitUntil(lambda: card.name == part and bool(card.fields) and not card._stale)


def type_in(qtbot: QtBot, card: PartCard, key: str, text: str) -> None:
    field = card.fields[key].edit
    assert isinstance(field, QLineEdit)
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)
