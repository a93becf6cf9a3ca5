"""A frame round a widget that the keyboard has come to, for those in which nothing need be marked."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QFocusEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractScrollArea, QWidget

from sketch.look.appearance import theme_of

BY_KEYS = (
    Qt.FocusReason.TabFocusReason,
    Qt.FocusReason.BacktabFocusReason,
    Qt.FocusReason.ShortcutFocusReason,
)
WIDTH = 2.0  # logical pixels


class FocusFrame(QWidget):
    """Lies over a widget that a key gave the keyboard to, until a mouse takes over; clicks go through."""

    def __init__(self, widget: QWidget) -> None:
        super().__init__(widget)
        self._widget = widget
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.hide()
        widget.installEventFilter(self)
        if isinstance(widget, QAbstractScrollArea):
            widget.viewport().installEventFilter(self)  # which has the mouse

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QFocusEvent):
            if event.gotFocus() and event.reason() in BY_KEYS:
                self.setGeometry(self._widget.rect())
                self.show()
                self.raise_()
            elif event.lostFocus() and event.reason() != Qt.FocusReason.PopupFocusReason:
                self.hide()
        elif event.type() == QEvent.Type.MouseButtonPress:
            self.hide()
        elif event.type() == QEvent.Type.Resize and watched is self._widget:
            self.setGeometry(self._widget.rect())
        return super().eventFilter(watched, event)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setPen(QPen(theme_of(self.palette()).accent, WIDTH))
        half = round(WIDTH / 2)
        painter.drawRect(self.rect().adjusted(half, half, -half, -half))
        painter.end()
