"""Why what is typed in a field of the strip was not accepted, in words over the drawing beside it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPoint, Signal
from PySide6.QtGui import QMouseEvent, QPalette
from PySide6.QtWidgets import QFrame, QWidget

from sketch.look.appearance import theme_of
from sketch.look.label import Label

WIDTH = 340  # of its lines at the most, in logical pixels
PAD = 6


class Refusal(Label):
    """Stands over or under its field until that is right or given up: the strip has no room for it.

    A click on it gives up, as Escape does.
    """

    given_up = Signal()

    def __init__(self, owner: QWidget) -> None:
        super().__init__(parent=owner)
        self._field = self._over = owner
        self.setWordWrap(True)
        self.setMargin(PAD)
        self.setFrameShape(QFrame.Shape.Box)
        self.setAutoFillBackground(True)
        self.setToolTip("Esc in the field, or a click here: show the figure of the drawing again")
        self.hide()
        owner.installEventFilter(self)

    def show_at(self, field: QWidget, text: str, over: QWidget | None = None) -> None:
        """Say why what is typed in a field was not accepted; `over` all of another widget, which it is in."""
        window = field.window()
        self._field, self._over = field, over or field
        if self.parentWidget() is not window:
            self.setParent(window)
        palette, theme = QPalette(window.palette()), theme_of(window.palette())
        palette.setColor(QPalette.ColorRole.WindowText, theme.stop)
        self.setPalette(palette)
        self.setText(text)
        self._place()
        self.show()
        self.raise_()

    def _place(self) -> None:
        window, field = self.window(), self._field
        width = min(WIDTH, window.width())
        height = self.heightForWidth(width)
        top = self._over.mapTo(window, QPoint(0, -height - PAD)).y()
        corner = field.mapTo(window, QPoint(field.width() - width, field.height() + PAD))
        left = min(max(corner.x(), 0), window.width() - width)
        self.setGeometry(left, top if top >= 0 else corner.y(), width, height)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.given_up.emit()
        event.accept()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() in (QEvent.Type.Move, QEvent.Type.Resize) and not self.isHidden():
            self._place()
        elif event.type() == QEvent.Type.Hide:
            self.hide()
        return super().eventFilter(watched, event)
