"""The fields in which title and notes are typed where they stand."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QHideEvent, QKeyEvent, QMouseEvent, QTextCursor
from PySide6.QtWidgets import QApplication, QLineEdit, QPlainTextEdit, QWidget
from shiboken6 import isValid

LINES = 6
"""Of the notes, that are seen at once while they are typed."""

RETURNING_FOCUS = (
    Qt.FocusReason.PopupFocusReason,
    Qt.FocusReason.ActiveWindowFocusReason,
    Qt.FocusReason.MenuBarFocusReason,
)
"""Ways to lose the keyboard for a while."""

OnTyped = Callable[[str], object]


class Exchange:
    """A field in the place of a label, for as long as something is typed there."""

    def __init__(self, label: QWidget, field: QWidget) -> None:
        self._label, self._field = label, field
        self._take: OnTyped | None = None
        self._before: QWidget | None = None  # what had the keyboard
        field.hide()

    def open(self, take: OnTyped) -> None:
        """Show the field. `take` is called with what is typed, if it was changed."""
        self._take, self._before = take, QApplication.focusWidget()
        self._label.hide()
        self._field.show()
        self._field.setFocus()

    def close(self, text: str | None) -> None:
        """Show the label again and take a text; None for nothing changed."""
        take, self._take = self._take, None
        if take is None:
            return
        if self._field.hasFocus() and self._before is not None and isValid(self._before):
            self._before.setFocus()  # first: hiding what has the keyboard would hand it to the next in order
        self._field.hide()
        self._label.show()
        if text is not None:
            take(text)


class TitleField(QLineEdit):
    """Return, or going elsewhere, takes what is typed; Escape leaves what stood there."""

    def __init__(self, label: QWidget) -> None:
        super().__init__()
        self._exchange = Exchange(label, self)
        self.returnPressed.connect(self.finish)

    def ask(self, text: str, take: OnTyped) -> None:
        """Begin at a text."""
        self.setText(text)
        self.setModified(False)
        self._exchange.open(take)
        self.selectAll()

    def finish(self) -> None:
        """Take what is typed."""
        self._exchange.close(self.text().strip() if self.isModified() else None)

    def leave(self) -> None:
        """Close without a change."""
        self._exchange.close(None)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self.selectAll()  # the first click of the two has opened it

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() not in RETURNING_FOCUS:
            self.finish()


class NotesField(QPlainTextEdit):
    """Ctrl+Return, or going elsewhere, takes what is typed; Escape leaves what stood there."""

    closed = Signal()

    def __init__(self, label: QWidget) -> None:
        super().__init__()
        self._exchange = Exchange(label, self)
        self.setTabChangesFocus(True)
        self.setFixedHeight(LINES * self.fontMetrics().lineSpacing() + 10)

    def ask(self, text: str, take: OnTyped) -> None:
        """Begin at a text."""
        self.setPlainText(text)
        self._exchange.open(take)
        self.moveCursor(QTextCursor.MoveOperation.End)

    def finish(self) -> None:
        """Take what is typed."""
        self._exchange.close(self.toPlainText().strip() if self.document().isModified() else None)

    def leave(self) -> None:
        """Close without a change."""
        self._exchange.close(None)

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.closed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        ends = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
        elif ends and event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.finish()
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() not in RETURNING_FOCUS:
            self.finish()
