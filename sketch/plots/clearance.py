"""What a label on a plot keeps clear of: the line itself, and the labels before it."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
from PySide6.QtCore import QPointF, QRectF

Ends = tuple[float, float, float, float]
"""A stretch of line, x0, y0, x1, y1, in pixels."""


class DrawnLine:
    """Stretches of line that are asked many times whether they run through a rectangle."""

    def __init__(self, stretches: Iterable[Ends] = ()) -> None:
        self._stretches = list(stretches)
        ends = np.array(self._stretches, dtype=np.float64).reshape(-1, 4)
        self._left, self._right = np.minimum(ends[:, 0], ends[:, 2]), np.maximum(ends[:, 0], ends[:, 2])
        self._top, self._bottom = np.minimum(ends[:, 1], ends[:, 3]), np.maximum(ends[:, 1], ends[:, 3])

    def crosses(self, box: QRectF, margin: float = 0.0) -> bool:
        """Whether any stretch comes nearer to a rectangle than `margin`."""
        left, top = box.left() - margin, box.top() - margin
        right, bottom = box.right() + margin, box.bottom() + margin
        across = (self._right >= left) & (self._left <= right)
        near = across & (self._bottom >= top) & (self._top <= bottom)
        return any(
            meets(left, top, right, bottom, *self._stretches[at]) for at in np.flatnonzero(near).tolist()
        )


def covered(box: QRectF, boxes: Iterable[QRectF]) -> float:
    """How much of a rectangle is taken already, in square pixels."""
    shared = (box & other for other in boxes)
    return sum(each.width() * each.height() for each in shared)


def distance(at: QPointF, start: QPointF, end: QPointF) -> float:
    """From a point to a stretch of line, in pixels."""
    along = end - start
    square = along.x() ** 2 + along.y() ** 2
    if square < 1e-9:
        return math.hypot(at.x() - start.x(), at.y() - start.y())
    share = min(max(QPointF.dotProduct(at - start, along) / square, 0.0), 1.0)
    foot = start + along * share
    return math.hypot(at.x() - foot.x(), at.y() - foot.y())


def meets(
    left: float, top: float, right: float, bottom: float, x0: float, y0: float, x1: float, y1: float
) -> bool:
    """Whether a stretch of line runs through a rectangle (Liang and Barsky's clipping)."""
    first, last = 0.0, 1.0
    for start, end, low, high in ((x0, x1, left, right), (y0, y1, top, bottom)):
        run = end - start
        if abs(run) < 1e-9:
            if not low <= start <= high:
                return False
            continue
        enter, leave = sorted(((low - start) / run, (high - start) / run))
        first, last = max(first, enter), min(last, leave)
    return first <= last
