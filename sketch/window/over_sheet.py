"""Bars that lie over the top of the drawing, so that nothing under the pointer moves where one comes."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, QObject, QPoint, QRect
from PySide6.QtWidgets import QVBoxLayout, QWidget

LEAST_WIDTH = 560
"""Logical pixels; over a narrower sheet the bars reach beyond it."""

_MAY_MOVE = (QEvent.Type.LayoutRequest, QEvent.Type.Resize, QEvent.Type.Move, QEvent.Type.Show)
_COMES_OR_GOES = (QEvent.Type.ShowToParent, QEvent.Type.HideToParent)


class OverSheet(QWidget):
    """Hidden while none of its bars has anything to say."""

    def __init__(self, whole: QWidget, bars: Sequence[QWidget], sheet: Callable[[], QWidget]) -> None:
        """`sheet` returns what the bars lie over now, one of those in `whole`."""
        super().__init__(whole)
        self._whole, self._bars, self._sheet = whole, tuple(bars), sheet
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for bar in self._bars:
            column.addWidget(bar)
            bar.installEventFilter(self)
        self.hide()

    def watch(self, *sheets: QWidget) -> None:
        """Follow what the bars may lie over where it moves."""
        for sheet in sheets:
            sheet.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() in _COMES_OR_GOES and watched in self._bars:
            self.setVisible(not all(bar.isHidden() for bar in self._bars))
        if self.isVisible() and event.type() in _MAY_MOVE:
            self.place()
        return super().eventFilter(watched, event)

    def event(self, event: QEvent) -> bool:
        done = super().event(event)
        if event.type() in (QEvent.Type.LayoutRequest, QEvent.Type.Show):
            self.place()
        return done

    def place(self) -> None:
        """Lie over the top of the sheet, as high as the bars need."""
        sheet, room = self._sheet(), self._whole.width()
        at = sheet.mapTo(self._whole, QPoint())
        width = min(max(sheet.width(), LEAST_WIDTH), room - at.x())
        layout = self.layout()
        height = layout.totalHeightForWidth(width) if layout is not None else self.sizeHint().height()
        self.setGeometry(QRect(at.x(), at.y(), width, height))
        for each in (self, *self._bars):
            if (inner := each.layout()) is not None:
                inner.activate()
                inner.setGeometry(each.rect())  # at once: a click may come before the next event
        self.raise_()
