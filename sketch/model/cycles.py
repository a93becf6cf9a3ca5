"""Cycles of objects, looked for on the thread that draws alone.

Python looks for them on whatever thread happens to allocate. Where that is one that waits for the disk, a
widget would be taken down on a thread that it does not belong to, which ends the process.
"""

from __future__ import annotations

import gc

from PySide6.QtCore import QObject, QTimer

EVERY_MS = 1000
MANY = 50_000
"""Objects made and not given back since the last look; drawings and their results are values, make no cycles,
and looking through them all takes a tenth of the time that a move of the mouse has."""

SELDOM = 20  # looks at the young objects alone between two at older ones


class Cycles(QObject):
    """Looks for cycles in idle moments of the event loop, and nowhere else for as long as it lives."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        gc.disable()
        self._looks = 0
        self._timer = QTimer(self, interval=EVERY_MS)
        self._timer.timeout.connect(self.look)
        self._timer.start()

    def look(self) -> None:
        """Look, where enough has been made since the last time."""
        if gc.get_count()[0] < MANY:
            return
        self._looks += 1
        gc.collect(0 if self._looks % SELDOM else 1 if self._looks % SELDOM**2 else 2)
