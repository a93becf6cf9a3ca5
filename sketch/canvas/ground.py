"""The reach map behind the elevation: where the shown pump's port may stand, worked out on its own thread."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPixmap

from sketch.canvas.hand import Hand
from sketch.drawing.backdrop import tanks
from sketch.drawing.painting import Drawn
from sketch.drawing.pencil import Pencil
from sketch.drawing.reach_ground import Ground, Question, explain_ground, ground, paint_ground
from sketch.drawing.view import XY, View
from sketch.look.colours import Theme
from sketch.model.document import Document
from sketch.model.worker import Job, Worker


class MapQuestion(NamedTuple):
    """What is asked for: the map of a drawing over a part of the sheet."""

    of: Question
    sheet: tuple[float, float, float, float]  # left, bottom, right, top [m]


class ReachGround(Worker[MapQuestion]):
    """Paints the map while it is switched on, and only that of the very drawing that is shown.

    While the pump itself is dragged the map is that of the drawing as the drag began: its places are those to
    which the port is brought.
    """

    IDLE_MS = 120

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self._sheet: tuple[float, float, float, float] | None = None  # that is looked at
        self._whole = False  # whether the last frame showed the map of its own drawing
        self._kept: tuple[Ground, object, QPixmap] | None = None  # what is painted, how it is looked at
        self.on = False
        self._seen: Ground | None = None  # in the frame that is painted

    def toggle(self) -> None:
        """Switch the map on or off."""
        self.on = not self.on
        self._whole = False
        self.changed.emit()

    def question(self) -> MapQuestion | None:
        """What a map would belong to now; None where none is asked for."""
        return MapQuestion(self._of(), self._sheet) if self.on and self._sheet is not None else None

    @staticmethod
    def work(question: MapQuestion) -> Ground:
        return ground(*question)

    def useful(self, job: Job[MapQuestion]) -> bool:
        """Whether its map is that of this drawing, if of another part of the sheet."""
        return job.question.of == self._of()

    def _of(self) -> Question:
        return Question(self._document.layout, self._document.level, self._document.pump)

    def shown(self, *, dragged: bool) -> Ground | None:
        """The map to draw now; None while that of this very drawing is not at hand."""
        job = self.answered
        self._whole = (job is not None and self.useful(job)) or (dragged and self._whole)
        return job.answer if job is not None and self._whole else None

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
        if not dragged:
            self._want(sheet)
        if ready is None:
            return None
        of = (view, size, theme.name)
        if self._kept is None or self._kept[0] is not ready or self._kept[1] != of:
            self._kept = (ready, of, _picture(ready, view, size, theme, painter))
        picture = self._kept[2]
        return lambda pencil: pencil.pixmap(picture)

    def explain(self, painter: QPainter, view: View, size: XY, theme: Theme, drawn: Drawn) -> None:
        """Say what the colours mean, where that covers least of what is drawn."""
        if self._seen is not None:
            boxes = [
                *(label.box for label in drawn.labels),
                *tanks(self._document.layout, view),
                drawn.scale_bar,
            ]
            occupied = [QRectF(*each) for each in boxes]
            for glyph in drawn.glyphs:
                half = glyph.width / 2
                occupied += [
                    QRectF(QPointF(*a), QPointF(*b)).normalized().adjusted(-half, -half, half, half)
                    for a, b in pairwise(glyph.points)
                ]
            explain_ground(painter, self._seen, view.dot, size, theme, occupied)

    def _want(self, sheet: tuple[float, float, float, float]) -> None:
        """Have the map of a part of the sheet worked out, unless it is on its way."""
        if self._sheet != sheet or not (self.at_hand or self.busy):
            self._sheet = sheet
            self.ask()


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
