"""The open share of a strainer over time, painted: by one function on screen and on paper."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from itertools import pairwise

from PySide6.QtGui import QColor

from sketch.drawing.labels import Box
from sketch.drawing.pencil import DASH, SMALL, Pencil
from sketch.look.colours import Theme
from sketch.views import trend_scale
from sketch.views.trend_scale import TimeScale
from solver.field.trend import Trend

LEFT, RIGHT, FOOT, TOP = 44.0, 30.0, 26.0, 22.0
"""Logical pixels that the axes take."""

BETWEEN = 6.0
"""Logical pixels between two dates under the axis."""

SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)
GAP, DOT = 4.0, 4.0
"""Logical pixels: round a text, and the radius of a reading."""
LINE = 1.0
"""Logical pixels on either side of a dashed line that it covers."""
STEPS = 12
"""Pieces of the line between two readings, for what it covers."""


def area_of(whole: Box, dot: float) -> Box:
    """Where the readings stand in a picture, inside its axes."""
    left, right, foot, top = (each * dot for each in (LEFT, RIGHT, FOOT, TOP))
    return Box(whole.x + left, whole.y + top, whole.width - left - right, whole.height - top - foot)


def paint_trend(pencil: Pencil, theme: Theme, area: Box, trend: Trend) -> None:
    """Paint a trend that has points, its axes round `area`."""
    scale = trend_scale.scale_of(trend)
    _axes(pencil, area, scale, trend.screen, theme)
    _due(pencil, area, scale, trend, theme)
    _points(pencil, area, scale, trend, theme)


def _height(area: Box, share: float) -> float:
    return area.bottom - share * area.height


def _axes(pencil: Pencil, area: Box, scale: TimeScale, screen: str, theme: Theme) -> None:
    dot = pencil.dot
    lines = [((area.x, _height(area, share)), (area.right, _height(area, share))) for share in SHARES]
    pencil.lines(lines, theme.grid)
    close = area.height < (len(SHARES) - 1) * pencil.height(SMALL)
    for share in SHARES[:: 2 if close else 1]:
        text = f"{100 * share:.0f} %"
        pencil.text(area.x - 6.0 * dot, _height(area, share), text, theme.quiet, SMALL, align=1.0)
    pencil.text(area.x, area.y - 10.0 * dot, f"Open share of {screen}", theme.quiet, SMALL)
    for x, text, written in _ticks(pencil, area, scale):
        pencil.lines([((x, area.bottom), (x, area.bottom + 4.0 * dot))], theme.construction)
        if written:
            pencil.text(x, area.bottom + 14.0 * dot, text, theme.quiet, SMALL, align=0.5)


def _ticks(pencil: Pencil, area: Box, scale: TimeScale) -> Iterator[tuple[float, str, bool]]:
    """Where each month begins, and whether there is room for its name behind the one before."""
    end = -math.inf
    for at, text in scale.ticks():
        x, half = area.x + at * area.width, pencil.width(text, SMALL) / 2.0
        written = x - half > end
        end = x + half + BETWEEN * pencil.dot if written else end
        yield x, text, written


def _due(pencil: Pencil, area: Box, scale: TimeScale, trend: Trend, theme: Theme) -> None:
    """The open share at which a case is over, and the earliest date at which the band may meet it.

    Their words stand there only where they cover no reading: the sentence above the plot has them too.
    """
    if trend.due_share is None:
        return
    y = _height(area, trend.due_share)
    pencil.lines([((area.x, y), (area.right, y))], theme.limit, 1.4, DASH)
    line = LINE * pencil.dot
    covered = [*_covered(area, scale, trend, DOT * pencil.dot), Box(area.x, y - line, area.width, 2 * line)]
    write = partial(_write, pencil, area, covered, theme.limit)
    if trend.earliest is not None:
        x = area.x + scale.across(trend.earliest) * area.width
        pencil.lines([((x, area.y), (x, area.bottom))], theme.limit, 1.2, DASH)
        covered.append(Box(x - line, area.y, 2 * line, area.height))
        write(f"earliest {trend.earliest:%Y-%m-%d}", (x,), (area.y, area.bottom))
    write("a case is over its limit below this", (area.x, area.right), (y,))


def _write(
    pencil: Pencil,
    area: Box,
    covered: list[Box],
    colour: QColor,
    text: str,
    across: tuple[float, ...],
    heights: tuple[float, ...],
) -> None:
    """Write a text beside what it is of, at the first place that is free, which is covered from now on."""
    gap, line = GAP * pencil.dot, LINE * pencil.dot
    wide, high = pencil.width(text, SMALL) + 2 * gap, pencil.height(SMALL)
    boxes = (
        Box(left, top, wide, high)
        for at in heights
        for top in (at + line, at - line - high)
        for x in across
        for left in (x + line, x - line - wide)
    )
    for box in boxes:
        inside = area.x <= box.x and box.right <= area.right and area.y <= box.y and box.bottom <= area.bottom
        if inside and not any(box.overlaps(other) for other in covered):
            pencil.text(box.x + gap, box.y + high / 2.0, text, colour, SMALL)
            covered.append(box)
            return


def _covered(area: Box, scale: TimeScale, trend: Trend, dot: float) -> Iterator[Box]:
    """What the readings cover: each with its band, and the line from one to the next."""
    places = [(area.x + scale.across(each.when) * area.width, each) for each in trend.points]
    for x, each in places:
        top = _height(area, each.high)
        yield Box(x - dot, top - dot, 2 * dot, _height(area, each.low) - top + 2 * dot)
    for (x, one), (next_x, other) in pairwise(places):
        for step in range(STEPS):
            share = one.open_share + (other.open_share - one.open_share) * step / STEPS
            yield Box(x + (next_x - x) * step / STEPS, _height(area, share) - dot / 2, dot, dot)


def _points(pencil: Pencil, area: Box, scale: TimeScale, trend: Trend, theme: Theme) -> None:
    """Each reading with its band; a hollow one where only a bound is known."""
    places = []
    for point in trend.points:
        x = area.x + scale.across(point.when) * area.width
        low, high, y = (_height(area, share) for share in (point.low, point.high, point.open_share))
        pencil.lines([((x, low), (x, high))], theme.accent, 2.0)
        places.append((x, y, point.bound_only))
    pencil.polylines([[(x, y) for x, y, _ in places]], theme.accent, 1.0)
    for x, y, hollow in places:
        pencil.circle(x, y, DOT * pencil.dot, theme.paper if hollow else theme.accent, theme.accent, 1.5)
