"""Tips that explain the words painted on a widget, where the pointer rests on them."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, QPointF
from PySide6.QtGui import QHelpEvent
from PySide6.QtWidgets import QToolTip, QWidget

from sketch.look.glossary import word_meanings
from sketch.look.words import tooltip

TextAt = Callable[[QPointF], str]
"""The text that is painted at a place of the widget; "" where there is none."""


class WordTips(QObject):
    """Answers a widget's question for a tip by the text that is painted there."""

    def __init__(self, widget: QWidget, text_at: TextAt) -> None:
        super().__init__(widget)
        self._widget, self._text_at = widget, text_at
        widget.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            explained = word_meanings(self._text_at(QPointF(event.pos())))
            if explained:
                QToolTip.showText(event.globalPos(), tooltip(explained), self._widget)
                return True
        return False
