"""A box to choose from on a page that scrolls."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QWheelEvent
from PySide6.QtWidgets import QComboBox


class Choice(QComboBox):
    """Nothing is chosen in it unseen: the wheel is the page's, and a letter opens its list at what begins so.

    What is marked in the list is chosen by Return or a click; Escape leaves what was there.
    """

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        text = event.text()
        held = event.modifiers() & (Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier)
        if self.isEditable() or held or not text.strip() or not text.isprintable():
            super().keyPressEvent(event)
            return
        self.showPopup()
        self.view().keyboardSearch(text)
