"""What stands between an error in a painting and the end of the program.

Qt calls a painting again at every repaint, so an error in one would be raised without end, and a painter left
open by it takes the process down. Here it is logged, told once, and an empty sheet is painted in its place.
"""

from __future__ import annotations

import logging
from collections.abc import Callable

from PySide6.QtCore import QRectF, Qt, QTimer
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QWidget

from sketch.look.appearance import theme_of
from sketch.model.document import Document

LOG = logging.getLogger(__name__)
PAD = 16


class Failsafe:
    """Paints one widget. `document.failed` is told of each error once, until another drawing is opened."""

    def __init__(self, widget: QWidget, document: Document) -> None:
        self._widget = widget
        self._document = document
        self._reported: set[str] = set()
        document.opened.connect(self._reported.clear)

    def paint(self, paint: Callable[[QPainter], object]) -> None:
        """Let `paint` paint the widget; an empty sheet that says so where it cannot."""
        painter = QPainter(self._widget)
        if self._widget.devicePixelRatioF() % 1:
            # At such a scale the last row of pixels belongs to the widget in part only.
            painter.fillRect(self._widget.rect().adjusted(-1, -1, 1, 1), self._ground)
        try:
            paint(painter)
        except Exception as error:
            painter.end()
            self._report(error)
            self._paint_message()
        finally:
            if painter.isActive():
                painter.end()

    @property
    def _ground(self) -> QColor:
        return theme_of(self._widget.palette()).paper

    def _report(self, error: Exception) -> None:
        name = self._widget.accessibleName().lower() or "view"
        text = f"The {name} could not be drawn ({type(error).__name__}: {error})."
        if text in self._reported:
            return
        self._reported.add(text)
        LOG.exception(text, exc_info=error)
        # Never from within the painting: whoever listens may want to change what is on the screen.
        QTimer.singleShot(0, self._document, lambda: self._document.failed.emit(text))

    def _paint_message(self) -> None:
        painter, theme = QPainter(self._widget), theme_of(self._widget.palette())
        area = QRectF(self._widget.rect())
        painter.fillRect(area, self._ground)
        painter.setPen(theme.quiet)
        text = (
            f"The {self._widget.accessibleName().lower()} could not be drawn. The drawing itself is unharmed."
        )
        flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
        painter.drawText(area.adjusted(PAD, PAD, -PAD, -PAD), flags, text)
        painter.end()
