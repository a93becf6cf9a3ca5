"""What fills the window: whole on any usual screen, scrolled on one that is too small for it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

FRAME = QSize(20, 60)
"""Logical pixels: what a desktop puts round a window or a dialog."""
AROUND = FRAME + QSize(0, 50)
"""That, and what stands over and under the whole: menu bar and status bar, or the buttons of a dialog."""


def within_screen(widget: QWidget, size: QSize) -> QSize:
    """The size, or what the widget's screen has room for."""
    return size.boundedTo(widget.screen().availableSize() - FRAME)


class ScrolledWhereSmall(QScrollArea):
    """Never smaller than what it holds needs, but for a screen that has not so much room."""

    def __init__(self, whole: QWidget) -> None:
        super().__init__()
        self._whole = whole
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidget(whole)
        for ground in (whole, self.viewport()):  # the window's own is enough, and painted once
            ground.setAutoFillBackground(False)

    def minimumSizeHint(self) -> QSize:
        return self._whole.minimumSizeHint().boundedTo(self.screen().availableSize() - AROUND)

    def sizeHint(self) -> QSize:
        return self._whole.sizeHint()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Need another size where what it holds does."""
        if watched is self._whole and event.type() == QEvent.Type.LayoutRequest:
            self.updateGeometry()
            self._fit()
        return super().eventFilter(watched, event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """Let it fill the window, and no less than it needs. Qt's own way would give every line of a text its
        height, where the layout knows how to share a lower one out."""
        needed, room = self._whole.minimumSizeHint(), self.maximumViewportSize()
        fits = needed.boundedTo(room) == needed
        self._whole.resize(room if fits else needed.expandedTo(self.viewport().size()))
