"""Where the port may stand, on paper: the elevation over the reach map, each drawing at its own scale."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter

from sketch.drawing.labels import Box
from sketch.drawing.painting import Drawn, fit, paint_elevation
from sketch.drawing.pencil import Pencil
from sketch.drawing.reach_ground import Ground, Question, explain_ground, ground, paint_ground
from sketch.drawing.recorder import Recorder
from sketch.drawing.view import AXIS_BOTTOM, AXIS_LEFT, View
from sketch.look.colours import Theme
from sketch.page.blocks import Block, Heading, Paragraph, Picture
from sketch.page.sheet_frame import Panel, Sheet

HIGH, KEY, GROWS = 240.0, 22.0, 1.8
"""Logical pixels: the height of a map with what its colours mean under it, and of that; and how many times as
high it may be where the page would be empty."""

HOW = (
    "Each place is coloured by what the margin would be with the port there, its line led after it as a hand "
    "would drag it, in the case that leaves it least. The line over which the margin is spent is drawn in "
    "full, the one over which it is thin dashed; what is over is crossed as well, what is thin hatched. "
    "Nothing is known of the ground or of walls: under the ground the pump would stand in a pit."
)


def reach_map_part(sheet: Sheet) -> Iterator[Block]:
    """The places for the pump of each drawing shown."""
    yield Heading("Where the port may stand")
    yield Paragraph(HOW, quiet=True, keep=True)
    for panel in sheet.panels:
        yield Paragraph("", f"{panel.option.title}: {panel.shown_as}", keep=True)
        yield Picture(HIGH, partial(_paint, sheet, panel), grows=GROWS)


def _paint(sheet: Sheet, panel: Panel, pencil: Pencil, theme: Theme, box: Box) -> None:
    layout, painter = panel.judgement.layout, pencil.painter
    size = (box.width, box.height - KEY * pencil.dot)
    view = fit(layout, *size, pencil.dot)
    ready = _ground(sheet, panel, view, size)

    def elevation(onto: QPainter | Pencil, ground: Callable[[Pencil], None] | None) -> Drawn:
        return paint_elevation(
            onto, panel.solution.layout, panel.solution, view, size, theme, sheet.system,
            pump=panel.pump, highest_port=panel.highest_port, legend=False, ground=ground,
            on_paper=True,
        )  # fmt: skip

    written = elevation(Recorder(view.dot, Box(0.0, 0.0, *size)), None).labels

    def places(_: Pencil) -> None:
        if ready is not None:
            painter.save()
            left, low = AXIS_LEFT * pencil.dot, size[1] - AXIS_BOTTOM * pencil.dot
            painter.setClipRect(QRectF(left, 0.0, size[0] - left, low), Qt.ClipOperation.IntersectClip)
            texts = [_with_descenders(label.box, ROOM * pencil.dot) for label in written]
            paint_ground(painter, ready, view, theme, hatched=True, texts=texts)
            painter.restore()

    painter.save()
    painter.translate(box.x, box.y)
    painter.setClipRect(QRectF(0.0, 0.0, *size))
    elevation(painter, places)
    painter.setClipping(False)
    if ready is not None:
        explain_ground(painter, ready, view.dot, size, theme, None)
    painter.restore()


ROOM = 2.0
"""Of a text, over and under it: what a letter or a line reaches out of its box [logical pixels]."""


def _with_descenders(box: Box, room: float) -> Box:
    return box._replace(y=box.y - room, height=box.height + 2.0 * room)


def _ground(sheet: Sheet, panel: Panel, view: View, size: tuple[float, float]) -> Ground | None:
    """The map over the whole picture; None where nothing can be judged."""
    (left, top), (right, bottom) = view.world(0.0, 0.0), view.world(*size)
    try:
        return ground(Question(panel.judgement.layout, sheet.level, panel.pump), (left, bottom, right, top))
    except (ValueError, KeyError):
        return None
