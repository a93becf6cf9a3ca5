"""Texts and dimensions of one's own, painted where their author put them."""

from __future__ import annotations

import math
from typing import NamedTuple

from sketch.drawing import symbols
from sketch.drawing.labels import Box, Label, LabelKind
from sketch.drawing.paper_places import PaperPlacer
from sketch.drawing.pencil import BODY, LARGE, SMALL, Pencil, Ruler
from sketch.drawing.placer import Placer
from sketch.drawing.view import BEFORE, XY, View
from sketch.look.colours import Theme
from solver.geometry import measured
from solver.layout.parts import Layout
from solver.layout.remarks import OwnDimension, OwnText, TextSize
from solver.quantities.units import Kind, System, typeset

PAD = 3.0
"""Logical pixels round a text."""
ARROW, SHORT = 8.0, 26.0
"""Logical pixels: of an arrow, and of a dimension line too short to hold two."""
GAP, OVERSHOOT = 4.0, 5.0
"""Logical pixels between a point and the line that leads from it, and past the dimension line."""


SIZES = {TextSize.SMALL: SMALL, TextSize.NORMAL: BODY, TextSize.LARGE: LARGE}
"""Logical pixels of a text of one's own."""
LEAST_ROOM, EDGE = 120.0, 4.0
"""Logical pixels: of the width of a text that is broken into lines on paper, and to the sheet's edge."""


def text_box(own: OwnText, view: View) -> Box:
    """Where a text lies on the device."""
    ruler, pad, size = Ruler(view.dot), PAD * view.dot, SIZES[own.size]
    x, middle = view.device(own.at[0].si, own.at[1].si)
    high, wide = ruler.height(size) + 2 * pad, ruler.width(own.text, size)
    return Box(x - BEFORE[own.anchor] * wide - pad, middle - high / 2, wide + 2 * pad, high)


def length_text(layout: Layout, dimension: OwnDimension, system: System) -> str:
    """What a dimension says; "" where the drawing has not its parts."""
    line = measured.dimension_line(layout, dimension)
    return "" if line is None else typeset(math.dist(*line), Kind.LENGTH, system)


def write(
    pencil: Pencil, layout: Layout, view: View, placer: Placer, theme: Theme, system: System
) -> list[Label]:
    """Paint them all; what is written later keeps off them."""
    labels = []
    for number, dimension in enumerate(layout.dimensions):
        drawn = _drawn(layout, dimension, view)
        if drawn is not None:
            text = length_text(layout, dimension, system)
            box = _paint_dimension(pencil, drawn, text, placer, theme)
            labels.append(Label(f"dimension {number}", LabelKind.DIMENSION, text, box))
    for number, own in enumerate(layout.texts):
        lines, box = [own.text], text_box(own, view)
        if isinstance(placer, PaperPlacer):
            lines, box = _on_sheet(own, box, placer.size[0], view.dot)
        placer.block_text(box)
        for at, line in enumerate(lines):
            y = box.y + box.height * (at + 0.5) / len(lines)
            pencil.text(box.x + PAD * view.dot, y, line, theme.ink, SIZES[own.size])
        labels.append(Label(f"text {number}", LabelKind.TEXT, own.text, box))
    return labels


def _on_sheet(own: OwnText, box: Box, width: float, dot: float) -> tuple[list[str], Box]:
    """A text that would run over the edge of a sheet of that width in lines, and where these lie."""
    edge, ruler, size = width - EDGE * dot, Ruler(dot), SIZES[own.size]
    if box.x >= 0.0 and box.right <= edge:
        return [own.text], box
    room = min(max(edge - max(box.x, 0.0), LEAST_ROOM * dot), edge)
    lines = ruler.wrap(own.text, room - 2 * PAD * dot, size)
    wide = max(ruler.width(line, size) for line in lines) + 2 * PAD * dot
    return lines, Box(min(max(box.x, 0.0), edge - wide), box.y, wide, box.height * len(lines))


class _Drawn(NamedTuple):
    """A dimension on the device: its two points, and the ends of its line."""

    points: tuple[XY, XY]
    line: tuple[XY, XY]


def _drawn(layout: Layout, dimension: OwnDimension, view: View) -> _Drawn | None:
    points, line = measured.ends(layout, dimension), measured.dimension_line(layout, dimension)
    if points is None or line is None:
        return None
    (a, b), (c, d) = ((view.device(*one), view.device(*other)) for one, other in (points, line))
    return _Drawn((a, b), (c, d))


def _paint_dimension(pencil: Pencil, drawn: _Drawn, text: str, placer: Placer, theme: Theme) -> Box:
    dot, (a, b) = pencil.dot, drawn.line
    away = math.dist(a, b)
    ux, uy = ((b[0] - a[0]) / away, (b[1] - a[1]) / away) if away > 0.0 else (1.0, 0.0)
    leads = [_lead(point, end, dot) for point, end in zip(drawn.points, drawn.line, strict=True)]
    pencil.lines([lead for lead in leads if lead is not None], theme.construction, 0.8)
    inside = away >= SHORT * dot
    over = 0.0 if inside else 14 * dot
    begin, end = (a[0] - ux * over, a[1] - uy * over), (b[0] + ux * over, b[1] + uy * over)
    pencil.lines([(begin, end)], theme.quiet, 1.0)
    way = (-ux, -uy) if inside else (ux, uy)
    pencil.polygon(symbols.arrow(a, way, ARROW * dot), theme.quiet, None)
    pencil.polygon(symbols.arrow(b, (-way[0], -way[1]), ARROW * dot), theme.quiet, None)
    box = _caption_box(pencil, a, b, (ux, uy), text)
    pencil.box(box, theme.paper)
    pencil.text(box.x + box.width / 2, box.y + box.height / 2, text, theme.ink, align=0.5)
    placer.block_text(box)
    placer.lines.block_line((begin, end), 3 * dot)
    return box


def _lead(point: XY, end: XY, dot: float) -> tuple[XY, XY] | None:
    """The line that leads from a point to the dimension line; None where it lies on it."""
    away = math.dist(point, end)
    if away <= GAP * dot:
        return None
    ux, uy = (end[0] - point[0]) / away, (end[1] - point[1]) / away
    begin = point[0] + ux * GAP * dot, point[1] + uy * GAP * dot
    return begin, (end[0] + ux * OVERSHOOT * dot, end[1] + uy * OVERSHOOT * dot)


def _caption_box(pencil: Pencil, a: XY, b: XY, way: XY, text: str) -> Box:
    """Across the middle of a line that is long enough, else beside it."""
    dot = pencil.dot
    wide, high = pencil.width(text) + 2 * PAD * dot, pencil.height() + 2 * dot
    x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    needed = abs(way[0]) * wide + abs(way[1]) * high + 3 * ARROW * dot
    if math.dist(a, b) < needed:
        x, y = x + abs(way[1]) * (wide / 2 + 6 * dot), y - abs(way[0]) * (high / 2 + 4 * dot)
    return Box(x - wide / 2, y - high / 2, wide, high)
