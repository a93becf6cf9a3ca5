"""Pins on the elevation: a small round mark with its text, tied to the place that it belongs to."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtGui import QColor

from sketch.drawing.labels import Anchor, Box, Label, LabelKind, Wish
from sketch.drawing.pencil import Pencil
from sketch.drawing.placer import Placer
from sketch.drawing.view import View
from sketch.look.colours import Theme
from sketch.model.pins import Pin, PinKind

DOT = 3.0
PAD = 6.0
DIAL = 15.0
"""Logical pixels: the dot at the place, around a text, the dial of a gauge."""

ASIDE = ((0, 0), (0, -1), (0, 1), (-1, 0), (1, 0), (0, -2), (0, 2), (-1, -1), (1, -1), (-1, 1), (1, 1))
"""Where the number of a joint may stand that has no place of its own, in heights of it from the joint."""


def write(pencil: Pencil, shown: Sequence[Pin], view: View, placer: Placer, theme: Theme) -> list[Label]:
    """Place the pins and draw them; one for which there is no room keeps its dot."""
    if shown:  # a frame that touches the edge of the sheet looks cut off
        grid = placer.lines
        wide, high = grid.columns * grid.cell, len(grid.rows) * grid.cell
        grid.block(Box(0.0, 0.0, wide, grid.cell))
        grid.block(Box(wide - grid.cell, 0.0, grid.cell, high))
    labels: list[Label] = []
    for pin in shown:
        label = _pin(pencil, pin, view, placer, theme, [each.box for each in labels])
        labels += [] if label is None else [label]
    return labels


def _pin(
    pencil: Pencil, pin: Pin, view: View, placer: Placer, theme: Theme, others: Sequence[Box]
) -> Label | None:
    dot, (x, y) = pencil.dot, view.device(pin.x, pin.z)
    colour = _colour(pin.kind, theme)
    high = pencil.height() + 3 * dot
    dial = DIAL * dot if pin.kind in (PinKind.GAUGE, PinKind.OVER) else 0.0
    way = math.sqrt(0.5)
    anchors = (Anchor(x, y, -way, -way, 8 * dot), Anchor(x, y, way, -way, 8 * dot))

    def wish(text: str) -> Wish:
        wide = max(pencil.width(text, bold=True) + 2 * PAD * dot + dial, high)
        return Wish(pin.key, wide, high, anchors)

    text, place = pin.text, placer.place(wish(pin.text))
    if place is None:
        text = pin.short or pin.text
        place = placer.place_anyway(wish(text))
    if place is None:
        below = (Anchor(x, y, -way, way, 8 * dot), Anchor(x, y, way, way, 8 * dot))
        place = placer.place_anyway(wish(text)._replace(anchors=below))
    if place is None and pin.kind is PinKind.JOINT:
        return _near_its_place(pencil, pin, (x, y), high, placer, theme, others)
    if place is None:
        _foot(pencil, x, y, colour, theme)
        return None
    box = place.box
    pencil.lines([((x, y), box.nearest(x, y))], colour, 1.0)
    _foot(pencil, x, y, colour, theme)
    pencil.box(box, theme.box, colour, 1.5, radius=high / 2 / dot)
    if dial:
        _dial(pencil, box.x + PAD * dot + dial * 0.36, box.y + high / 2, colour)
    middle = box.x + dial * 0.5 + box.width / 2
    pencil.text(middle, box.y + high / 2, text, colour, bold=True, align=0.5)
    return Label(pin.key, LabelKind.PIN, text, box, place.leader)


def _near_its_place(
    pencil: Pencil,
    pin: Pin,
    joint: tuple[float, float],
    high: float,
    placer: Placer,
    theme: Theme,
    others: Sequence[Box],
) -> Label:
    """The number of a joint over the line or the joint itself, off the others and, if it can be, off every
    text: without it, a text that counts joints means nothing."""
    (x, y), colour = joint, _colour(pin.kind, theme)
    boxes = [Box(x + (across - 0.5) * high, y + (down - 0.5) * high, high, high) for across, down in ASIDE]
    apart = [box for box in boxes if not any(box.overlaps(other) for other in others)] or boxes
    free = (box for box in apart if placer.texts.free_at(box.x, box.y, high, high))
    box = next(free, apart[0])
    placer.block_text(box)
    if not box.holds(x, y):
        pencil.lines([(joint, box.nearest(x, y))], colour, 1.0)
        if not any(other.holds(x, y) for other in others):
            _foot(pencil, x, y, colour, theme)
    pencil.box(box, theme.box, colour, 1.5, radius=high / 2 / pencil.dot)
    pencil.text(box.x + high / 2, box.y + high / 2, pin.text, colour, bold=True, align=0.5)
    return Label(pin.key, LabelKind.PIN, pin.text, box, None)


def pin_at(labels: Sequence[Label], shown: Sequence[Pin], view: View, x: float, y: float) -> Pin | None:
    """The pin whose text, or else whose mark, lies at a device point; None for none. labels: as drawn."""

    def away(pin: Pin, to: tuple[float, float]) -> float:
        return math.dist(view.device(pin.x, pin.z), to)

    for label in labels:
        if label.kind is LabelKind.PIN and label.box.holds(x, y):
            alike = [pin for pin in shown if label.text in (pin.text, pin.short)]
            return min(
                alike, key=lambda pin: away(pin, label.box.nearest(*view.device(pin.x, pin.z))), default=None
            )
    near = [pin for pin in shown if away(pin, (x, y)) <= PAD * view.dot]
    return min(near, key=lambda pin: away(pin, (x, y)), default=None)


def _foot(pencil: Pencil, x: float, y: float, colour: QColor, theme: Theme) -> None:
    half = DOT * pencil.dot
    pencil.box(Box(x - half, y - half, 2 * half, 2 * half), colour, theme.paper, 1.0, radius=DOT)


def _dial(pencil: Pencil, x: float, y: float, colour: QColor) -> None:
    """A pressure gauge, ISO 1219-1: a circle with a pointer."""
    dot = pencil.dot
    half = 5.0 * dot
    pencil.box(Box(x - half, y - half, 2 * half, 2 * half), None, colour, 1.2, radius=5.0)
    pencil.lines([((x - 2.4 * dot, y + 2.4 * dot), (x + 2.8 * dot, y - 2.8 * dot))], colour, 1.2)


def _colour(kind: PinKind, theme: Theme) -> QColor:
    if kind is PinKind.OVER:
        return theme.stop
    return {PinKind.JOINT: theme.accent, PinKind.POCKET: theme.caution}.get(kind, theme.ink)
