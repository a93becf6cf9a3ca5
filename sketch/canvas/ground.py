"""The reach map behind the elevation: where the shown pump's port may stand, worked out on its own thread."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import QObject, QRectF, QTimer, Signal
from PySide6.QtGui import QPainter, QPixmap

from sketch.canvas.hand import Hand
from sketch.drawing.labels import Label
from sketch.drawing.pencil import Pencil
from sketch.drawing.reach_ground import Ground, Question, explain_ground, ground, paint_ground
from sketch.drawing.view import XY, View
from sketch.look.colours import Theme
from sketch.model.document import Document

IDLE_MS = 120  # of no change before it is worked out
POLL_MS = 15  # between two looks at whether the thread is done


class _Job:
    """One map on its way. It holds plain values: a thread must never be the last to hold a widget."""

    def __init__(self, question: Question, sheet: tuple[float, float, float, float]) -> None:
        self.question, self.sheet = question, sheet
        self.ground: Ground | None = None
        self.done = threading.Event()
        threading.Thread(target=self._work, daemon=True).start()

    def _work(self) -> None:
        try:
            self.ground = ground(self.question, self.sheet)
        except (ValueError, KeyError):
            self.ground = None  # nothing can be judged, and nothing is drawn
        finally:
            self.done.set()


class ReachGround(QObject):
    """Paints the map while it is switched on, and only that of the very drawing that is shown.

    While the pump itself is dragged the map is that of the drawing as the drag began: its places are those to
    which the port is brought.
    """

    changed = Signal()

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self._document = document
        self._answered: _Job | None = None
        self._running: _Job | None = None
        self._wanted: tuple[float, float, float, float] | None = None
        self._whole = False  # whether the last frame showed the map of its own drawing
        self._kept: tuple[Ground, object, QPixmap] | None = None  # what is painted, how it is looked at
        self.on = False
        self._seen: Ground | None = None  # in the frame that is painted
        self._idle = QTimer(self, interval=IDLE_MS, singleShot=True)
        self._idle.timeout.connect(self._start)
        self._poll = QTimer(self, interval=POLL_MS)
        self._poll.timeout.connect(self._look)

    def toggle(self) -> None:
        """Switch the map on or off."""
        self.on = not self.on
        self._whole = False
        self.changed.emit()

    def question(self) -> Question:
        """What a map would belong to now."""
        return Question(self._document.layout, self._document.level, self._document.pump)

    def shown(self, *, dragged: bool) -> Ground | None:
        """The map to draw now; None while that of this very drawing is not at hand."""
        current = self._answered is not None and self._answered.question == self.question()
        self._whole = current or (dragged and self._whole)
        return self._answered.ground if self._answered is not None and self._whole else None

    def painter(
        self, painter: QPainter, view: View, size: XY, theme: Theme, hand: Hand
    ) -> Callable[[Pencil], None] | None:
        """What paints the map on blank paper; None while there is none, which is then asked for."""
        self._seen = None
        if not self.on or self._document.pump not in self._document.layout.pumps:
            return None
        dragged = hand.drags(self._document.pump)
        (left, top), (right, bottom) = view.world(0.0, 0.0), view.world(*size)
        sheet = (left, bottom, right, top)
        self._seen = ready = self.shown(dragged=dragged)
        if not dragged and not self._asked(sheet):
            self._want(sheet)
        if ready is None:
            return None
        of = (view, size, theme.name)
        if self._kept is None or self._kept[0] is not ready or self._kept[1] != of:
            self._kept = (ready, of, _picture(ready, view, size, theme, painter))
        return partial(Pencil.pixmap, pixmap=self._kept[2])

    def explain(self, painter: QPainter, view: View, size: XY, theme: Theme, labels: Sequence[Label]) -> None:
        """Say what the colours mean, where that covers least."""
        if self._seen is not None:
            explain_ground(painter, self._seen, view.dot, size, theme, [QRectF(*each.box) for each in labels])

    def _asked(self, sheet: tuple[float, float, float, float]) -> bool:
        """Whether the answer is at hand, even where it is that nothing can be judged."""
        job = self._answered
        return job is not None and job.question == self.question() and job.sheet == sheet

    def _want(self, sheet: tuple[float, float, float, float]) -> None:
        if self._wanted != sheet or not (self._idle.isActive() or self._running):
            self._wanted = sheet
            self._idle.start()

    def _start(self) -> None:
        if self._running is None and self._wanted is not None and self.on:
            self._running = _Job(self.question(), self._wanted)
            self._poll.start()

    def _look(self) -> None:
        job = self._running
        if job is None or not job.done.is_set():
            return
        self._poll.stop()
        self._running = None
        self._answered = job
        if job.question != self.question() or job.sheet != self._wanted:
            self._idle.start()
        self.changed.emit()


def _picture(ready: Ground, view: View, size: XY, theme: Theme, painter: QPainter) -> QPixmap:
    ratio = painter.device().devicePixelRatioF()
    pixmap = QPixmap(round(size[0] * ratio), round(size[1] * ratio))
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(theme.paper)
    inner = QPainter(pixmap)
    inner.setFont(painter.font())
    paint_ground(inner, ready, view, theme)
    inner.end()
    return pixmap
