"""A line of text that is shown whole where its field is too narrow: to the pointer, and to the keys."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QLineEdit, QToolTip

from sketch.look.words import tooltip

EDGES = 12  # between the field and its text at either end together, in logical pixels
BY_KEY = (
    Qt.FocusReason.TabFocusReason,
    Qt.FocusReason.BacktabFocusReason,
    Qt.FocusReason.ShortcutFocusReason,
)


class WholeLine(QLineEdit):
    """Has its text for a tip where that is cut; keys that lead to the field show the tip under it."""

    def is_cut(self) -> bool:
        """Whether the field has no room for all of its text."""
        return self.fontMetrics().horizontalAdvance(self.text()) > self.width() - EDGES

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip:
            self._tip()
        return super().event(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._tip()
        if event.reason() in BY_KEY and self.is_cut():
            QToolTip.showText(self.mapToGlobal(QPoint(0, self.height())), self.toolTip(), self)

    def _tip(self) -> None:
        self.setToolTip(tooltip(self.text()) if self.is_cut() else "")
