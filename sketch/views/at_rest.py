"""When a view of the whole drawing is worked out again: at rest, and only while it is seen."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QWidget

from sketch.model.document import Document

IDLE_MS = 180  # of no change before anything is worked out again


class AtRest(QObject):
    """Calls a widget's `refresh` once the drawing has come to rest; of a hidden one, when it is shown.

    `refresh` sets `stale` to False. The widget's `showEvent` calls `shown`.
    """

    def __init__(self, widget: QWidget, document: Document, refresh: Callable[[], None]) -> None:
        super().__init__(widget)
        self.stale = True
        self._widget, self._refresh = widget, refresh
        self._idle = QTimer(self, interval=IDLE_MS, singleShot=True)
        self._idle.timeout.connect(refresh)
        document.changed.connect(self.mark_stale)

    def mark_stale(self) -> None:
        """What is shown belongs to another drawing now."""
        self.stale = True
        if self._widget.isVisible():
            self.wait()

    def wait(self) -> None:
        """Refresh after as long again without a change."""
        self._idle.start()

    def shown(self) -> None:
        """Refresh at once what went stale while it was hidden."""
        if self.stale:
            self._refresh()
