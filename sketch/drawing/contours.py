"""Lines of one height on a grid of figures."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

Segment = tuple[float, float, float, float]
"""From (x, y) to (x, y)."""


def contour(xs: Floats, ys: Floats, heights: Floats) -> list[Segment]:
    """Where the heights are zero, cell by cell of the grid.

    Parameters: `heights`, a row for each of `ys`, a column for each of `xs`; a cell with a nan has no line.
    """
    above = heights >= 0
    mixed = above[:-1, :-1].astype(int) + above[:-1, 1:] + above[1:, :-1] + above[1:, 1:]
    whole = np.isfinite(heights[:-1, :-1] + heights[:-1, 1:] + heights[1:, :-1] + heights[1:, 1:])
    segments: list[Segment] = []
    for i, j in np.argwhere(whole & (mixed > 0) & (mixed < 4)):
        corners = [
            (xs[j + across], ys[i + up], heights[i + up, j + across])
            for across, up in ((0, 0), (1, 0), (1, 1), (0, 1))
        ]
        points = [
            _between(one, other)
            for one, other in zip(corners, (*corners[1:], corners[0]), strict=True)
            if (one[2] >= 0) != (other[2] >= 0)
        ]
        segments += [(*a, *b) for a, b in zip(points[::2], points[1::2], strict=True)]
    return segments


def _between(one: tuple[float, float, float], other: tuple[float, float, float]) -> tuple[float, float]:
    """Where an edge of a cell crosses zero."""
    part = one[2] / (one[2] - other[2])
    return float(one[0] + part * (other[0] - one[0])), float(one[1] + part * (other[1] - one[1]))
