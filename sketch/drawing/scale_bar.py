"""How long a metre or a foot is on the drawing: a measured bar, where it covers nothing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sketch.drawing.backdrop import tick_step, tick_text
from sketch.drawing.labels import Box
from sketch.drawing.pencil import Pencil
from sketch.drawing.placer import Placer
from sketch.drawing.view import AXIS_BOTTOM, AXIS_LEFT, XY, View
from sketch.look.colours import Theme
from solver.quantities import units
from solver.quantities.units import Kind, System


def scale_bar(
    pencil: Pencil,
    view: View,
    size: XY,
    theme: Theme,
    system: System,
    placer: Placer,
    kept_clear: Sequence[Box] = (),
) -> Box:
    """A measured bar, and on a page the scale as a ratio; where it stands.

    kept_clear: what it covers only where there is no other place, on a page; in a window it stays where it
    is.
    """
    dot = view.dot
    for least in (LEAST_BAR, LEAST_BAR / 2, LEAST_BAR / 4):
        step = tick_step(view.scale, system, least * dot)
        length = step * view.scale
        text = f"{tick_text(step, step, system)} {units.unit(Kind.LENGTH, system)}"
        if view.true_scale:
            text += f"   scale 1 : {view.ratio:g}"
        wide, high = length + pencil.width(text) + 16 * dot, 18 * dot
        if wide <= size[0] - (AXIS_LEFT + 14) * dot:
            break
    places = _bar_places(size, wide, high, dot)
    box = next(places)
    if view.true_scale:
        free = (each for each in (box, *places) if placer.lines.free(each))
        box = next((each for each in free if not any(each.overlaps(clear) for clear in kept_clear)), box)
    x, y = box.x + 4 * dot, box.y + 9 * dot
    ends = ((x, y - 4 * dot), (x, y + 4 * dot)), ((x + length, y - 4 * dot), (x + length, y + 4 * dot))
    pencil.box(box, theme.paper)
    pencil.lines([((x, y), (x + length, y)), *ends], theme.quiet, 1.2)
    pencil.text(x + length + 8 * dot, y, text, theme.quiet)
    behind = BEHIND * dot if view.true_scale else 0.0
    placer.block_text(box._replace(width=min(wide + behind, size[0] - box.x)))
    return box


LEAST_BAR = 56.0
"""Logical pixels: a shorter bar stands only on a drawing that is too narrow for it."""

BEHIND = 12.0
"""Logical pixels behind the scale on a page, so that no name reads on from it."""

BAR_STEPS = 12
"""Places along an edge that a scale bar is tried at."""


def _bar_places(size: XY, wide: float, high: float, dot: float) -> Iterator[Box]:
    """Along the foot of the drawing, its usual place first, then along its top."""
    left, right = (AXIS_LEFT + 10) * dot, size[0] - wide - 4 * dot
    for y in (size[1] - AXIS_BOTTOM * dot - 23 * dot, 6 * dot):
        for step in range(BAR_STEPS + 1):
            yield Box(left + max(right - left, 0.0) * step / BAR_STEPS, y, wide, high)
