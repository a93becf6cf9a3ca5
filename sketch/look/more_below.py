"""A row that a list's lower edge cuts through fades into it, so that it is seen that more follows."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPoint, Qt
from PySide6.QtGui import QColor, QLinearGradient, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractItemView, QAbstractScrollArea, QWidget

HEIGHT = 22
"""Logical pixels over which a row fades."""


class MoreBelow(QWidget):
    """Lies over the lower edge of a scrolling area while there is more below it; clicks go through it."""

    def __init__(self, area: QAbstractScrollArea) -> None:
        super().__init__(area)
        self._area = area
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        bar = area.verticalScrollBar()
        bar.valueChanged.connect(self._follow)
        bar.rangeChanged.connect(self._follow)
        area.viewport().installEventFilter(self)
        self._follow()

    def _follow(self) -> None:
        bar, port = self._area.verticalScrollBar(), self._area.viewport().geometry()
        high = min(HEIGHT, port.height())
        self.setGeometry(port.x(), port.bottom() + 1 - high, port.width(), high)
        self.setVisible(bar.value() < bar.maximum())
        self.raise_()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Resize:
            self._follow()
        return super().eventFilter(watched, event)

    def _cut_from(self) -> int:
        """Where the row that is cut begins, in this strip; at its foot where the edge cuts through none."""
        area, port = self._area, self._area.viewport()
        if not isinstance(area, QAbstractItemView):
            return 0
        row = area.visualRect(area.indexAt(QPoint(0, port.height() - 1)))
        cut = row.isValid() and row.bottom() >= port.height()
        return max(row.top() - port.height() + self.height(), 0) if cut else self.height()

    def paintEvent(self, event: QPaintEvent) -> None:
        port, top = self._area.viewport(), self._cut_from()
        ground = port.palette().color(port.backgroundRole())
        clear = QColor(ground)
        clear.setAlpha(0)
        fade = QLinearGradient(0.0, float(top), 0.0, float(self.height()))
        fade.setColorAt(0.0, clear)
        fade.setColorAt(0.85, ground)
        painter = QPainter(self)
        painter.fillRect(self.rect().adjusted(0, top, 0, 0), fade)
