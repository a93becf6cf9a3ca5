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
from solver.field.trend import Trend, line_to

LEFT, RIGHT, FOOT, TOP = 44.0, 30.0, 26.0, 22.0
"""Logical pixels that the axes take."""

BETWEEN = 6.0
"""Logical pixels between two dates under the axis."""

SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)
GAP, DOT = 4.0, 4.0
"""Logical pixels: round a text, and the radius of a reading."""
LINE = 1.0
"""Logical pixels on either side of a dashed line that it covers."""
PIECES, BAND = 97, 0.15
"""Points of the line through the readings, and how strongly the band round it is tinted."""
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
    _line(pencil, area, scale, trend, theme)
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


def _line(pencil: Pencil, area: Box, scale: TimeScale, trend: Trend, theme: Theme) -> None:
    """The straight line through the readings and its edges, which meet the share that is due on its dates."""
    along = line_to(trend, scale.last, PIECES)
    if not along:
        return
    x = [area.x + scale.across(each.when) * area.width for each in along]
    low, share, high = (
        [_height(area, min(max(value, 0.0), 1.0)) for value in values]
        for values in zip(*((each.low, each.share, each.high) for each in along), strict=True)
    )
    pencil.polygon([*zip(x, high, strict=True), *reversed([*zip(x, low, strict=True)])], _tint(theme), None)
    inside = [
        place
        for place, each in zip(zip(x, share, strict=True), along, strict=True)
        if 0.0 <= each.share <= 1.0
    ]
    pencil.polylines([inside], theme.accent, 1.0)


def _tint(theme: Theme) -> QColor:
    """Under what is written and drawn in the band of a line."""
    tint = QColor(theme.accent)
    tint.setAlphaF(BAND)
    return tint


def _due(pencil: Pencil, area: Box, scale: TimeScale, trend: Trend, theme: Theme) -> None:
    """The open share at which a case is over, and the dates on which the edges of the band meet it.

    Their words stand there only where they cover no reading: the sentence above the plot has them too.
    """
    if trend.due_share is None:
        return
    y = _height(area, trend.due_share)
    pencil.lines([((area.x, y), (area.right, y))], theme.limit, 1.4, DASH)
    line = LINE * pencil.dot
    covered = [*_covered(area, scale, trend, DOT * pencil.dot), Box(area.x, y - line / 2, area.width, line)]
    write = partial(_write, pencil, area, covered, theme.limit)
    dates = {"earliest": trend.earliest, "latest": trend.latest}
    shown = {word: when for word, when in dates.items() if when is not None and when <= scale.last}
    at = {word: area.x + scale.across(when) * area.width for word, when in shown.items()}
    pencil.lines([((x, area.y), (x, area.bottom)) for x in at.values()], theme.limit, 1.2, DASH)
    covered += [Box(x - line / 2, area.y, line, area.height) for x in at.values()]
    for word, when in shown.items():
        write(f"{word} {when:%Y-%m-%d}", (at[word],), (area.y, area.bottom))
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
    gap, line, beyond = GAP * pencil.dot, LINE * pencil.dot, (RIGHT - GAP) * pencil.dot
    wide, high = pencil.width(text, SMALL) + 2 * gap, pencil.height(SMALL)
    boxes = (
        Box(left, top, wide, high)
        for at in heights
        for top in (at + line, at - line - high)
        for x in across
        for left in (x + line, x - line - wide)
    )
    for box in boxes:
        inside = (
            area.x <= box.x
            and box.right <= area.right + beyond
            and area.y <= box.y
            and box.bottom <= area.bottom
        )
        if inside and not any(box.overlaps(other) for other in covered):
            pencil.text(box.x + gap, box.y + high / 2.0, text, colour, SMALL)
            covered.append(box)
            return


def _covered(area: Box, scale: TimeScale, trend: Trend, dot: float) -> Iterator[Box]:
    """What the readings cover: each with its band, and the line through them or from one to the next."""
    places = [(area.x + scale.across(each.when) * area.width, each) for each in trend.points]
    for x, each in places:
        top = _height(area, each.high)
        yield Box(x - dot, top - dot, 2 * dot, _height(area, each.low) - top + 2 * dot)
    for point in line_to(trend, scale.last, PIECES):
        x = area.x + scale.across(point.when) * area.width
        yield Box(x - dot / 2, _height(area, point.share) - dot / 2, dot, dot)
    for (x, one), (next_x, other) in pairwise(places if trend.earliest is None else ()):
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
    if trend.earliest is None:
        pencil.polylines([[(x, y) for x, y, _ in places]], theme.accent, 1.0)
    for x, y, hollow in places:
        pencil.circle(x, y, DOT * pencil.dot, theme.paper if hollow else theme.accent, theme.accent, 1.5)
