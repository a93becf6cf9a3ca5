"""A pencil that draws nothing yet: it lists what is to be drawn, and the rectangle each stroke may touch.

Two such lists are compared, and only where they differ is a picture painted again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import Any, NamedTuple, TypeVar

from PySide6.QtCore import QLineF, QRectF
from PySide6.QtGui import QColor, QPainter, QPixmap, QPolygonF

from sketch.drawing.labels import Box
from sketch.drawing.memory import Memory
from sketch.drawing.pencil import SMALL, Pencil, Ruler
from sketch.drawing.view import XY

BATCH = 16
"""Lines that Qt strokes as one shape: where two of them meet, no seam shows."""

T = TypeVar("T")
Draw = Callable[..., None]


class Stroke(NamedTuple):
    """One call of a pencil, and what it may touch [device units]."""

    left: float
    top: float
    right: float
    bottom: float
    draw: Draw  # takes the pencil, then `how`
    how: tuple[Any, ...]

    @property
    def box(self) -> Box:
        """The rectangle that it may touch."""
        return Box(self.left, self.top, self.right - self.left, self.bottom - self.top)


class RememberingPencil(Pencil):
    """A pencil that has at hand what was worked out for the last frame."""

    def __init__(self, painter: QPainter, dot: float = 1.0, before: Memory | None = None) -> None:
        """before: the memory of the last frame's pencil."""
        super().__init__(painter, dot)
        self.memory = Memory(before)

    def known(self, what: object, things: tuple[object, ...], make: Callable[[], T]) -> T:
        return self.memory.of((what, self.dot, self.family), things, make)


class Recorder(Pencil):
    """Lists strokes."""

    def __init__(
        self,
        dot: float = 1.0,
        sheet: Box | None = None,
        before: Recorder | None = None,
        *,
        holds_labels: bool = False,
    ) -> None:
        """before: the recorder of the last frame. holds_labels: whether labels go along with their elements,
        as they stood last, and have no places looked for."""
        Ruler.__init__(self, dot)
        self.sheet, self.holds_labels = sheet, holds_labels
        self.strokes: list[Stroke] = []
        known: Memory | None = None
        if before is not None and (before.dot, before.family) == (dot, self.family):
            known = before.memory
        self.memory: Memory = Memory(known)
        self._pen: tuple[QColor, float, Sequence[float], bool] | None = None

    def _add(self, points: Iterable[XY], by: float, draw: Draw, *how: object) -> None:
        self.strokes.append(_round(points, by, draw, *how))

    def _edge(self, width: float, *, joined: bool = False) -> float:
        """How far a stroke of that width reaches beyond its points, and beyond those where it is joined."""
        return (width if joined else 0.5 * width) * self.dot + 1.0

    def known(self, what: object, things: tuple[object, ...], make: Callable[[], T]) -> T:
        return self.memory.of(what, things, make)

    def known_each(
        self,
        name: str,
        given: object,
        things: Sequence[tuple[object, ...]],
        make: Callable[..., T],
        *shared: object,
    ) -> list[T]:
        return self.memory.of_each(name, given, things, make, *shared)

    def repeated_each(
        self,
        name: str,
        given: object,
        things: Sequence[tuple[object, ...]],
        draw: Callable[..., T],
        *shared: object,
    ) -> list[T]:
        """List what is known of each from the last frame without asking for it."""
        each = self.memory.of_each(name, given, things, partial(self._listed, draw), *shared)
        for strokes, _ in each:
            self.strokes += strokes
        return [value for _, value in each]

    def _listed(self, draw: Callable[..., T], *thing: object) -> tuple[tuple[Stroke, ...], T]:
        """The strokes of what is drawn, taken off the list again, and what that returns."""
        first = len(self.strokes)
        value = draw(self, *thing)
        strokes = tuple(self.strokes[first:])
        del self.strokes[first:]
        return strokes, value

    def repeated(
        self,
        key: object,
        things: tuple[object, ...],
        draw: Callable[[Pencil], T],
        reach: Callable[[], Box] | None = None,
    ) -> T | None:
        """List what is known from the last frame without asking for it; as one stroke, given its reach."""

        def listed() -> tuple[tuple[Stroke, ...], T | None]:
            if reach is not None:
                return (Stroke(*_ends(reach()), _call, (draw,)),), None
            return self._listed(draw)

        strokes, value = self.memory.of(key, things, listed)
        self.strokes += strokes
        return value

    def fill(self, colour: QColor) -> None:
        if self.sheet is not None:
            x, y, wide, high = self.sheet
            self.strokes.append(Stroke(x, y, x + wide, y + high, Pencil.fill, (colour,)))

    def pixmap(self, pixmap: QPixmap) -> None:
        sheet = self.sheet or Box(0.0, 0.0, pixmap.width(), pixmap.height())
        self.strokes.append(Stroke(*sheet[:2], sheet.right, sheet.bottom, Pencil.pixmap, (pixmap,)))

    def pen(
        self, colour: QColor, width: float = 1.0, dash: Sequence[float] = (), *, mitre: bool = True
    ) -> None:
        self._pen = (colour, width, dash, mitre)

    def lines(
        self,
        lines: Iterable[Sequence[XY]],
        colour: QColor,
        width: float = 1.0,
        dash: Sequence[float] = (),
    ) -> None:
        whole, by = tuple(lines), self._edge(width)
        for first in range(0, len(whole), BATCH):
            batch = whole[first : first + BATCH]
            if len(batch) < BATCH:
                self.strokes.append(_lines(batch, by, colour, width, dash))
                continue
            # Of a long line, most of which is as it was.
            what, make = ("lines", by, width, tuple(dash)), partial(_lines, batch, by, colour, width, dash)
            self.strokes.append(self.memory.of(what, (*batch, colour), make))

    def segments(
        self, lines: list[QLineF], colour: QColor, width: float = 1.0, dash: Sequence[float] = ()
    ) -> None:
        self.lines((((a.x1(), a.y1()), (a.x2(), a.y2())) for a in lines), colour, width, dash)

    def rules(self, areas: Iterable[QRectF], colour: QColor) -> None:
        whole = tuple(areas)
        if whole:
            left, top = min(area.left() for area in whole), min(area.top() for area in whole)
            right, bottom = max(area.right() for area in whole), max(area.bottom() for area in whole)
            self._add(((left, top), (right, bottom)), 1.0, Pencil.rules, whole, colour)

    def polyline(self, points: Sequence[XY]) -> None:
        if self._pen is not None:
            by = self._edge(self._pen[1], joined=True)
            self._add(points, by, _polyline, self._pen, tuple(points))

    def polylines(
        self, lines: Iterable[Sequence[XY]], colour: QColor, width: float, dash: Sequence[float] = ()
    ) -> None:
        straight: list[Sequence[XY]] = []
        what, by = ("curve", width, tuple(dash)), self._edge(width, joined=True)
        for each in lines:
            points = tuple(each)
            if len(points) == 2:
                straight.append(points)
            else:
                make = partial(_curve, points, by, colour, width, dash)
                self.strokes.append(self.memory.of(what, (points, colour), make))
        self.lines(straight, colour, width, dash)

    def shapes(
        self, paths: Sequence[QPolygonF], fill: QColor, edge: QColor | None, width: float = 1.0
    ) -> None:
        for path in paths:
            self.polygon([(point.x(), point.y()) for point in path.toList()], fill, edge, width)

    def polygon(
        self,
        points: Sequence[XY],
        fill: QColor | None,
        edge: QColor | None,
        width: float = 1.0,
        *,
        mitre: bool = True,
    ) -> None:
        by = self._edge(width, joined=True) if edge is not None else 1.0
        self._add(points, by, _polygon, tuple(points), fill, edge, width, mitre)

    def circle(
        self, x: float, y: float, radius: float, fill: QColor | None, edge: QColor, width: float
    ) -> None:
        by = radius + self._edge(width)
        self.strokes.append(
            Stroke(x - by, y - by, x + by, y + by, Pencil.circle, (x, y, radius, fill, edge, width))
        )

    def box(
        self,
        box: Box,
        fill: QColor | None,
        edge: QColor | None = None,
        width: float = 1.0,
        radius: float = 0.0,
    ) -> None:
        by = 1.0 if edge is None else width * self.dot + 1.0
        x, y, wide, high = box
        self.strokes.append(
            Stroke(x - by, y - by, x + wide + by, y + high + by, Pencil.box, (box, fill, edge, width, radius))
        )

    def text(
        self,
        x: float,
        y: float,
        text: str,
        colour: QColor,
        size: float = SMALL,
        *,
        bold: bool = False,
        align: float = 0.0,
    ) -> None:
        wide, high = self.width(text, size, bold=bold), self.height(size)
        left = x - align * wide
        self.strokes.append(
            Stroke(
                left - high / 2, y - high, left + wide + high / 2, y + high,
                _text, (x, y, text, colour, size, bold, align),
            )
        )  # fmt: skip


def _round(points: Iterable[XY], by: float, draw: Draw, *how: object) -> Stroke:
    """A stroke that goes no farther than `by` from its points."""
    xs, ys = zip(*points, strict=True)
    return Stroke(min(xs) - by, min(ys) - by, max(xs) + by, max(ys) + by, draw, how)


def _curve(points: tuple[XY, ...], by: float, colour: QColor, width: float, dash: Sequence[float]) -> Stroke:
    return _round(points, by, Pencil.polylines, (points,), colour, width, dash)


def _lines(
    lines: tuple[Sequence[XY], ...], by: float, colour: QColor, width: float, dash: Sequence[float]
) -> Stroke:
    points = [point for line in lines for point in line]
    return _round(points, by, Pencil.lines, lines, colour, width, dash)


def _ends(box: Box) -> tuple[float, float, float, float]:
    return box.x, box.y, box.right, box.bottom


def _call(pencil: Pencil, draw: Callable[[Pencil], None]) -> None:
    draw(pencil)


def _polyline(
    pencil: Pencil, pen: tuple[QColor, float, Sequence[float], bool], points: tuple[XY, ...]
) -> None:
    pencil.pen(*pen[:3], mitre=pen[3])
    pencil.polyline(points)


def _polygon(
    pencil: Pencil,
    points: tuple[XY, ...],
    fill: QColor | None,
    edge: QColor | None,
    width: float,
    mitre: bool,
) -> None:
    pencil.polygon(points, fill, edge, width, mitre=mitre)


def _text(
    pencil: Pencil, x: float, y: float, text: str, colour: QColor, size: float, bold: bool, align: float
) -> None:
    pencil.text(x, y, text, colour, size, bold=bold, align=align)
