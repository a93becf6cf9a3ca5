"""The reach map behind the elevation: where the shown pump's port may stand, worked out on its own thread."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QLineF, QObject, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPixmap

from sketch.canvas.hand import Hand
from sketch.drawing.contours import Segment, contour
from sketch.drawing.labels import Label
from sketch.drawing.view import AXIS_BOTTOM, AXIS_LEFT, XY, View
from sketch.look.appearance import blend
from sketch.look.colours import Theme
from sketch.model.document import Document
from solver.answers.reach_map import ReachMap, reach_map
from solver.findings.criteria import criteria_of
from solver.layout.cases import CaseError, cases_of, typed_out
from solver.layout.parts import Layout, Level

ACROSS, UP = 60, 40
IDLE_MS = 120  # of no change before it is worked out
POLL_MS = 15  # between two looks at whether the thread is done
TINT = 0.16


class Question(NamedTuple):
    """What a map belongs to."""

    layout: Layout
    level: Level
    pump: str


class Ground(NamedTuple):
    """A map with what is drawn of it."""

    map: ReachMap
    spare: NDArray[np.float64]  # margin less what is thin, for every place [Pa]
    zero: list[Segment]
    thin: list[Segment]
    unread: tuple[str, ...]  # cases that do not hold on the drawing: nothing is judged then


def ground(question: Question, sheet: tuple[float, float, float, float]) -> Ground:
    """The map over a part of the sheet: left, bottom, right, top [m]."""
    layout, level, pump = question
    drawings, unread = {}, []
    for name, case in cases_of(layout).items():
        try:
            drawing = typed_out(layout, name, case)
        except CaseError:
            unread.append(name)
            continue
        if not drawing.pumps[pump].at_rest:
            drawings[name] = (drawing, level)
    left, bottom, right, top = sheet
    xs, ys = np.linspace(left, right, ACROSS), np.linspace(bottom, top, UP)
    margins = reach_map(drawings, pump, xs, ys)
    margin = np.full_like(margins.margin, np.nan) if unread else margins.margin
    criteria = criteria_of(layout)
    spare = margin - np.maximum(criteria.thin_pressure, criteria.thin_margin * margins.budget)
    zero, thin = contour(xs, ys, margin), contour(xs, ys, spare)
    return Ground(replace(margins, margin=margin), spare, zero, thin, tuple(unread))


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
    ) -> Callable[[], None] | None:
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
        return partial(painter.drawPixmap, 0, 0, self._kept[2])

    def explain(self, painter: QPainter, view: View, size: XY, theme: Theme, labels: Sequence[Label]) -> None:
        """Say what the colours mean, where that covers least."""
        if self._seen is not None:
            _explain(painter, self._seen, view.dot, size, theme, [QRectF(*each.box) for each in labels])

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
    _fill(inner, ready, view, theme)
    inner.setRenderHint(QPainter.RenderHint.Antialiasing)
    for segments, colour, style in (
        (ready.thin, theme.caution, Qt.PenStyle.DashLine),
        (ready.zero, theme.limit, Qt.PenStyle.SolidLine),
    ):
        inner.setPen(QPen(colour, 1.5 * view.dot, style))
        inner.drawLines([QLineF(*view.device(a, b), *view.device(c, d)) for a, b, c, d in segments])
    inner.end()
    return pixmap


def _fill(painter: QPainter, ready: Ground, view: View, theme: Theme) -> None:
    xs, ys, margin = ready.map.xs, ready.map.ys, ready.map.margin
    half_x, half_y = (xs[1] - xs[0]) / 2, (ys[1] - ys[0]) / 2
    for where, colour in (
        (margin < 0, theme.stop),
        ((margin >= 0) & (ready.spare < 0), theme.caution),
        (ready.spare >= 0, theme.good),
    ):
        tint = blend(colour, theme.paper, TINT)
        for i, j in np.argwhere(where):
            left, top = view.device(xs[j] - half_x, ys[i] + half_y)
            right, bottom = view.device(xs[j] + half_x, ys[i] - half_y)
            # To whole device units, so that no seam shows between two places.
            box = QRectF(round(left), round(top), round(right) - round(left), round(bottom) - round(top))
            painter.fillRect(box, tint)


def _explain(
    painter: QPainter, ready: Ground, dot: float, size: XY, theme: Theme, occupied: list[QRectF]
) -> None:
    """One line with what the colours mean, at the edge of the sheet where it covers least."""
    several = f", the worst of {len(ready.map.cases)} cases" if len(ready.map.cases) > 1 else ""
    pieces: list[tuple[str, QColor | None]] = [(f"Port of {ready.map.pump} there{several}:", None)]
    if ready.unread:
        pieces.append((f"not judged, as the case {', '.join(ready.unread)} is not", None))
    else:
        pieces += [("within", theme.good), ("thin margin", theme.caution), ("over", theme.stop)]
        pieces.append(("not judged", theme.paper))
    metrics = QFontMetricsF(painter.font())
    high, gap = metrics.lineSpacing(), 8 * dot
    widths = [metrics.horizontalAdvance(text) + (high if colour else 0.0) + gap for text, colour in pieces]
    box = _least_covered(sum(widths) + gap, high + 4 * dot, dot, size, occupied)
    painter.fillRect(box, theme.box)
    x = box.left() + gap
    for (text, colour), width in zip(pieces, widths, strict=True):
        if colour is not None:
            swatch = QRectF(x, box.top() + 2 * dot + high * 0.2, high * 0.7, high * 0.6)
            painter.fillRect(swatch, blend(colour, theme.paper, TINT))
            painter.setPen(QPen(theme.construction, 1.0))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(swatch)
        painter.setPen(theme.ink)
        left = x + (high if colour is not None else 0.0)
        painter.drawText(QRectF(left, box.top(), width, box.height()), Qt.AlignmentFlag.AlignVCenter, text)
        x += width


def _least_covered(width: float, height: float, dot: float, size: XY, occupied: list[QRectF]) -> QRectF:
    """Where a strip along the upper or lower edge covers least of what is written."""
    left, right = AXIS_LEFT * dot + 6 * dot, size[0] - width - 6 * dot
    low, high = size[1] - AXIS_BOTTOM * dot - height - 6 * dot, 6 * dot
    places = [
        QRectF(x, y, width, height)
        for y in (low, high, low - 1.6 * height, high + 1.6 * height)
        for x in (right, left + 130 * dot, left)
    ]

    def covered(box: QRectF) -> float:
        shared = (box.intersected(each) for each in occupied)
        return sum(each.width() * each.height() for each in shared)

    return min(places, key=covered)
