"""The field in which a dimension is typed where it stands on the sheet."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPalette, QStatusTipEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QToolTip, QWidget

from sketch.canvas.dimensions import Dimension
from sketch.drawing.labels import Box
from sketch.editing.edits import EditError
from sketch.look.appearance import theme_of
from sketch.look.unit_hint import UnitHint
from sketch.look.words import tooltip
from sketch.model.document import Document
from sketch.model.moves import moved_again
from solver.geometry.followed import followed_text, with_followed
from solver.geometry.outline import GeometryError
from solver.quantities import units
from solver.quantities.units import Kind

LEAST_WIDTH = 110
ROOM = 28  # for the frame and the cursor


class InlineField(QLineEdit):
    """Enter sets the dimension, Escape leaves it; what cannot be is told, and the field stays open."""

    def __init__(self, document: Document, sheet: QWidget) -> None:
        super().__init__(sheet)
        self._sheet = sheet
        self._document = document
        self._take: Callable[[str], object] | None = None
        self._unit = UnitHint(self)
        self.hide()
        self.textEdited.connect(self._clear_trouble)
        self.textEdited.connect(self._grow)
        document.opened.connect(self.leave)

    def open(self, dimension: Dimension) -> None:
        """Ask for a figure over the one that stands there."""

        def take(text: str) -> None:
            document, before = self._document, self._document.layout
            layout = dimension.set(before, text)
            if dimension.pump:
                layout = moved_again(document, dimension.pump, layout)
            self.leave()
            document.apply(with_followed(dimension.undo_text(text, document.system), before, layout), layout)
            if followed := followed_text(before, layout):
                QApplication.sendEvent(self.window(), QStatusTipEvent(followed))

        self.ask(dimension.label.box, dimension.name, dimension.text, dimension.kind, take)
        self.selectAll()

    def ask(self, box: Box, name: str, text: str, kind: Kind | None, take: Callable[[str], object]) -> None:
        """Ask for a figure at a place of the sheet, or for words without a kind.

        `take` is called with what is typed, and may raise EditError.
        """
        self._take = take
        self.setAccessibleName(name)
        self.setText(text)
        self._unit.set_unit(units.unit(kind, self._document.system) if kind is not None else "")
        self._clear_trouble()
        high = self.sizeHint().height()
        y = min(max(round(box.y + box.height / 2 - high / 2), 0), max(self._sheet.height() - high, 0))
        self.setGeometry(max(round(box.x), 0), y, 0, high)
        self._grow()
        self.show()
        self.setFocus()
        self._sheet.update()  # without the words beside the pointer, which this would half cover

    def _grow(self) -> None:
        """Be wide enough for what is typed, and keep within the sheet."""
        wide = max(LEAST_WIDTH, self.width(), self.fontMetrics().horizontalAdvance(self.text()) + ROOM)
        wide = min(wide, max(self._sheet.width(), LEAST_WIDTH))
        self.setGeometry(max(min(self.x(), self._sheet.width() - wide), 0), self.y(), wide, self.height())

    def leave(self) -> None:
        """Close without a change."""
        self._take = None
        QToolTip.hideText()  # what was wrong with a figure goes with it
        if self.isVisible():
            self._sheet.setFocus()  # first: hiding what has the keyboard would hand it to the next in order
            self.hide()
            self._sheet.update()

    def _set(self) -> None:
        if self._take is None:
            return
        try:
            self._take(self.text())
        except (EditError, GeometryError) as error:
            self._refuse(str(error))

    def _refuse(self, text: str) -> None:
        palette = QPalette(self.palette())
        palette.setColor(QPalette.ColorRole.Text, theme_of(palette).stop)
        self.setPalette(palette)
        self.setAccessibleDescription(text)
        QToolTip.showText(self.mapToGlobal(QPoint(0, self.height())), tooltip(text), self)

    def _clear_trouble(self) -> None:
        if self.accessibleDescription():
            QToolTip.hideText()
        self.setPalette(QPalette())
        self.setAccessibleDescription("")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if Qt.Key(event.key()) is Qt.Key.Key_Escape:
            self.leave()
        elif Qt.Key(event.key()) in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._set()  # and no more: the sheet would take it for itself
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() is not Qt.FocusReason.ActiveWindowFocusReason:
            self.leave()
