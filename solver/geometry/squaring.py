"""How the points of a line follow one of them that is moved: stretches stay square.

A vertical or horizontal stretch stays so: its other end comes along in the one direction that would tilt it.
A slanted stretch may take any slope. Plain points, (x, y) [m]; no parts.
"""

from __future__ import annotations

from itertools import pairwise

XY = tuple[float, float]

Target = tuple[float | None, float | None]
"""The x and y [m] that a point is to take; None where it keeps its own."""

STAYS: Target = (None, None)

SQUARE = 2e-4
"""Points this near to one vertical or horizontal line are on it [m]: figures are rounded to 0.1 mm."""


def at(point: XY, target: Target) -> XY:
    """The point once it has taken a target."""
    x, y = target
    return point[0] if x is None else x, point[1] if y is None else y


def needed(point: XY, target: Target) -> Target:
    """What of a target would change a point."""
    x, y = target
    return None if x == point[0] else x, None if y == point[1] else y


def follow(points: list[XY], target: Target) -> tuple[list[XY], Target]:
    """Move the first point of a line and let the others follow.

    Returns the points, the last one where it was, and what the last one would have to take for the line to
    stay square.
    """
    moved = list(points)
    target = needed(points[0], target)
    moved[0] = at(points[0], target)
    for i in range(1, len(points)):
        (xa, ya), (xb, yb) = points[i - 1], points[i]
        upright, level = abs(xa - xb) <= SQUARE, abs(ya - yb) <= SQUARE
        target = needed(points[i], (target[0] if upright else None, target[1] if level else None))
        if target == STAYS:
            break
        if i < len(points) - 1:
            moved[i] = at(points[i], target)
    return moved, target


def jog(points: list[XY], target: Target) -> list[XY]:
    """Move the first point of a straight line whose last cannot follow: a pair of corners takes up the rest.

    They sit in the middle of the longest stretch, where their bends have most room.
    """
    moved, left = follow(points, target)
    axis = 0 if left[0] is not None else 1  # across the line; the other coordinate runs along it
    along = 1 - axis
    spans = [abs(moved[i + 1][along] - moved[i][along]) for i in range(len(moved) - 1)]
    split = spans.index(max(spans))
    middle = (moved[split][along] + moved[split + 1][along]) / 2
    if spans[split] <= SQUARE:  # drawn as one point: its hidden length turns once into the plane
        return [moved[0], (moved[0][0], points[-1][1]), *points[1:]]
    corner = {axis: moved[0][axis], along: middle}, {axis: points[-1][axis], along: middle}
    return [*moved[: split + 1], *((c[0], c[1]) for c in corner), *points[split + 1 :]]


def longest(points: list[XY]) -> float:
    """Length of the longest stretch of a line that runs square [m]."""
    return max(max(abs(a[0] - b[0]), abs(a[1] - b[1])) for a, b in pairwise(points))


def without_folded(points: list[XY]) -> list[XY]:
    """The line without the corners that a move has laid on one another."""
    kept = list(points)
    i = 1
    while i < len(kept) - 2:
        if _near(kept[i], kept[i + 1]):
            del kept[i]
            if _between(kept[i - 1], kept[i], kept[i + 1]):
                del kept[i]
            i = max(1, i - 1)
        else:
            i += 1
    return without_end_corners(kept)


def without_end_corners(points: list[XY]) -> list[XY]:
    """The line without corners that lie on its ends: they bend nothing."""
    kept = list(points)
    while len(kept) > 2 and _near(kept[-2], kept[-1]):
        del kept[-2]
    while len(kept) > 2 and _near(kept[0], kept[1]):
        del kept[1]
    return kept


def _near(a: XY, b: XY) -> bool:
    return abs(a[0] - b[0]) <= SQUARE and abs(a[1] - b[1]) <= SQUARE


def _between(a: XY, b: XY, c: XY) -> bool:
    """Whether b lies on a square line from a to c."""
    return (abs(a[0] - b[0]) <= SQUARE and abs(b[0] - c[0]) <= SQUARE) or (
        abs(a[1] - b[1]) <= SQUARE and abs(b[1] - c[1]) <= SQUARE
    )
