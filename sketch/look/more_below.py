"""A row that a list's lower edge cuts through fades into it, so that it is seen that more follows."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QColor, QLinearGradient, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractScrollArea, QWidget

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

    def paintEvent(self, event: QPaintEvent) -> None:
        port = self._area.viewport()
        ground = port.palette().color(port.backgroundRole())
        clear = QColor(ground)
        clear.setAlpha(0)
        fade = QLinearGradient(0.0, 0.0, 0.0, float(self.height()))
        fade.setColorAt(0.0, clear)
        fade.setColorAt(0.85, ground)
        painter = QPainter(self)
        painter.fillRect(self.rect(), fade)
