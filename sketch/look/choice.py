"""A box to choose from on a page that scrolls."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QStandardItemModel, QWheelEvent
from PySide6.QtWidgets import QAbstractItemView, QComboBox


class Choice(QComboBox):
    """Nothing is chosen in it unseen: the wheel is the page's, and a letter opens its list at what begins so.

    What is marked in the list is chosen by Return or a click; Escape leaves what was there.
    """

    opens_at = ""  # the entry that the list opens at, where another than the one held

    def add_reason(self, text: str) -> None:
        """Add an entry that cannot be chosen: why something is not among them."""
        self.addItem(text)
        model = self.model()
        assert isinstance(model, QStandardItemModel)
        model.item(self.count() - 1).setEnabled(False)

    def showPopup(self) -> None:
        super().showPopup()
        row = self.findText(self.opens_at) if self.opens_at else -1
        if row >= 0:
            self.view().setCurrentIndex(self.model().index(row, self.modelColumn()))
        self.view().scrollTo(self.view().currentIndex(), QAbstractItemView.ScrollHint.PositionAtCenter)

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
