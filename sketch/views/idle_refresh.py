"""When a view of the whole drawing is worked out again: once nothing changes, and only while it is seen."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QWidget

from sketch.model.document import BASE, Document
from solver.layout.cases import cases_of

MOST_AT_ONCE = 1000  # pumps in cases of alternatives that are solved in one go: a few hundredths of a second
IDLE_MS = 180  # of no change before anything is worked out again


class IdleRefresh(QObject):
    """Calls a widget's `refresh` once the drawing has come to rest; of a hidden one, when it is shown.

    Where much is to be solved for it, the alternatives are solved one after the other first, so that no
    gesture waits for all of them; the widget, which shows another drawing until then, is out of use.
    `refresh` sets `stale` to False. The widget's `showEvent` calls `shown`.
    """

    def __init__(self, widget: QWidget, document: Document, refresh: Callable[[], None]) -> None:
        super().__init__(widget)
        self.stale = True
        self._widget, self._document, self._refresh = widget, document, refresh
        self._idle = QTimer(self, interval=IDLE_MS, singleShot=True)
        self._idle.timeout.connect(self._fill)
        self._next = QTimer(self, interval=0, singleShot=True)
        self._next.timeout.connect(self._fill)
        document.changed.connect(self.mark_stale)

    def mark_stale(self) -> None:
        """What is shown belongs to another drawing now."""
        self.stale = True
        self._next.stop()
        if self._widget.isVisible():
            self.wait()

    def wait(self) -> None:
        """Refresh after as long again without a change."""
        self._idle.start()

    def shown(self) -> None:
        """Refresh at once what went stale while it was hidden."""
        if self.stale:
            self._fill()

    def _fill(self) -> None:
        document = self._document
        unsolved = [name for name in (BASE, *document.alternatives) if not document.has_outcome_of(name)]
        each = len(cases_of(document.layout)) * len(document.layout.pumps)
        at_once = len(unsolved) < 2 or len(unsolved) * each <= MOST_AT_ONCE
        self._widget.setEnabled(at_once)
        if at_once:
            self._refresh()
        elif self._widget.isVisible():
            document.outcome_of(unsolved[0])
            self._next.start()
