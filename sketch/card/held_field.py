"""A field that is clicked into keeps its place on the card, whatever appears above it."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QScrollArea, QWidget

from sketch.card.card_fields import CardField


class HeldField:
    """Scrolls a card so far that a field with the mouse on it stays under the mouse."""

    def __init__(self, card: QWidget, room: QScrollArea, sheet: QWidget) -> None:
        self._card, self._room, self._sheet = card, room, sheet
        self._field: CardField | None = None
        self._top = 0

    def remember(self, fields: Iterable[CardField]) -> None:
        """Remember where the field stands into which a button of the mouse is just pressed, if it is one."""
        pressed = QApplication.mouseButtons() != Qt.MouseButton.NoButton
        focus = QApplication.focusWidget()
        self._field = next(
            (each for each in fields if pressed and focus is not None and each.isAncestorOf(focus)), None
        )
        self._top = self._place()

    def restore(self) -> bool:
        """Scroll until it stands there again; whether there was one."""
        if self._field is None:
            return False
        if (layout := self._card.layout()) is not None:
            layout.activate()  # its head is higher with what it says of a refusal
        bar = self._room.verticalScrollBar()
        wanted = bar.value() + self._place() - self._top
        self._field = None
        height = self._room.viewport().height() + max(wanted, 0)
        if height > self._sheet.height():
            self._sheet.setMinimumHeight(height)
            self._sheet.resize(self._sheet.width(), height)
        bar.setValue(wanted)
        return True

    def forget(self) -> None:
        """Need no more room than the fields do."""
        self._field = None
        self._sheet.setMinimumHeight(0)

    def _place(self) -> int:
        return 0 if self._field is None else self._field.mapTo(self._card, QPoint()).y()
