"""How often what stands round the drawing is shown anew while a part of it is dragged."""

from __future__ import annotations

import math
from collections.abc import Callable
from time import perf_counter

from PySide6.QtCore import QObject, QTimer, Signal

from sketch.model.document import Document

FRAMES = 5
"""Of a drag, of which one is passed on: 12 in a second where the screen shows 60."""

LATEST = 0.08
"""After the last one that was passed on the next is, however few have come [s]."""


class Pace(QObject):
    """Passes the document's changes on: each at once, but of those of a drag every fifth one and the last.

    For pictures, sliders and long tables, which cost as much as the drawing itself: the hand does not wait
    for them. What says in words how the drawing comes out follows the document itself, frame by frame.
    """

    changed = Signal()

    def __init__(self, document: Document, clock: Callable[[], float] = perf_counter) -> None:
        super().__init__(document)
        self._clock = clock
        self._dragging = False
        self.passed_on = 0  # changes so far
        self._held_back = 0  # changes since the last one that was passed on
        self._passed = -math.inf  # when that was [s]
        self._rest = QTimer(self, singleShot=True)
        self._rest.timeout.connect(self._catch_up)
        document.changed.connect(self._follow)

    def begin_drag(self) -> None:
        """The hand begins to move what it holds."""
        self._dragging = True

    def end_drag(self) -> None:
        """The hand has let go: what was held back is shown."""
        self._dragging = False
        self._catch_up()

    def _follow(self) -> None:
        rest = self._passed + LATEST - self._clock()
        if not self._dragging or rest <= 0.0 or self._held_back + 1 >= FRAMES:
            self._pass_on()
            return
        self._held_back += 1
        if not self._rest.isActive():
            self._rest.start(math.ceil(rest * 1000))

    def _catch_up(self) -> None:
        if self._held_back:
            self._pass_on()

    def _pass_on(self) -> None:
        self._rest.stop()
        self._held_back = 0
        self.passed_on += 1
        self.changed.emit()
        self._passed = self._clock()


def pace(document: Document) -> Pace:
    """The pace of a document: one for all its views."""
    return document.findChild(Pace) or Pace(document)
