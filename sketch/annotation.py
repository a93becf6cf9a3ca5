"""What is dimensioned on the elevation: the lift to the port, and the highest port."""

from __future__ import annotations

import math

from PySide6.QtGui import QColor

from sketch import symbols
from sketch.colours import Theme
from sketch.glyphs import pump_circle
from sketch.labels import Box, Label, Placer
from sketch.pencil import DASH, Pencil
from sketch.view import AXIS_BOTTOM, AXIS_LEFT, XY, View
from solver import units
from solver.layout import Layout
from solver.ledger import Solution
from solver.units import Kind, System


def highest_port(
    pencil: Pencil, view: View, size: XY, z: float, theme: Theme, system: System, placer: Placer
) -> Label | None:
    """The dashed line across the sheet where the budget would be used up."""
    dot, y = view.dot, view.device(0.0, z)[1]
    if not 0.0 < y < size[1] - AXIS_BOTTOM * dot:
        return None
    line = ((AXIS_LEFT * dot, y), (size[0], y))
    pencil.lines([line], theme.limit, 1.2, DASH)
    placer.lines.block_line(line, 2 * dot)
    text = f"highest port {units.show(z, Kind.LENGTH, system)}"
    wide, high = pencil.width(text) + 8 * dot, pencil.height()
    for x in (AXIS_LEFT * dot + 8 * dot, size[0] - wide - 8 * dot, size[0] / 2):
        for top in (y - high - 2 * dot, y + 2 * dot):
            box = Box(x, top, wide, high)
            if placer.lines.free(box):
                placer.block_text(box)
                pencil.text(x + 4 * dot, top + high / 2, text, theme.limit)
                return Label("highest port", "limit", text, box)
    return None


def lift(
    pencil: Pencil,
    layout: Layout,
    solution: Solution,
    pump: str,
    view: View,
    theme: Theme,
    system: System,
    placer: Placer,
    pointed: bool,
) -> Label | None:
    """The height from the fluid level to the port, dimensioned beside the pump."""
    ledger = solution.pumps[pump]
    x, y = (value.si for value in layout.pumps[pump].at)
    (port_x, port_y), (_, level_y) = view.device(x, y), view.device(x, ledger.level)
    if abs(port_y - level_y) < 3.0 * view.dot:
        return None
    corners = [view.device(cx.si, cy.si)[0] for cx, cy in layout.reservoirs[ledger.reservoir].outline]
    height = y - ledger.level
    text = f"{'lift' if height > 0 else 'flooded'} {units.show(abs(height), Kind.LENGTH, system)}"
    at = _free_column(pencil, layout, pump, view, (port_y, level_y), pencil.width(text), placer)
    edge = max(corners) if at > max(corners) else min(corners) if at < min(corners) else at
    colour = theme.halo if pointed else theme.quiet
    _dimension(pencil, at, port_y, level_y, colour, pointed)
    dot = view.dot
    beyond = math.copysign(5 * dot, at - port_x)
    gap = math.copysign(4 * dot, at - edge) if at != edge else 0.0
    extensions = [((port_x + math.copysign(10 * dot, at - port_x), port_y), (at + beyond, port_y))]
    if edge != at:
        extensions.append(((edge + gap, level_y), (at + gap, level_y)))
    pencil.lines(extensions, theme.construction, 0.8)
    for line in (*extensions, ((at, port_y), (at, level_y))):
        placer.lines.block_line(line, 3 * dot)
    return _dimension_text(pencil, f"lift {pump}", text, at, (port_y + level_y) / 2, colour, theme, placer)


def _free_column(
    pencil: Pencil,
    layout: Layout,
    pump: str,
    view: View,
    ends: XY,
    wide: float,
    placer: Placer,
) -> float:
    """Where the dimension line crosses least."""
    x, _, radius = pump_circle(layout, pump, view)
    low, high = min(ends), max(ends)
    dot, width = view.dot, placer.lines.columns * placer.lines.cell
    best, least = x + radius + 28 * dot, math.inf
    for away in (28, 52, 80, 120, 170):
        for at in (x + radius + away * dot, x - radius - away * dot):
            if not AXIS_LEFT * dot + wide / 2 + 8 * dot < at < width - wide / 2 - 8 * dot:
                continue
            taken = 0
            steps = max(int((high - low) / (8 * dot)), 1)
            for k in range(steps):
                box = Box(at - 6 * dot, low + (high - low) * k / steps, 12 * dot, 8 * dot)
                taken += not placer.lines.free(box)
            cost = taken / steps + away / 800
            if cost < least:
                best, least = at, cost
    return best


def _dimension(pencil: Pencil, at: float, top: float, bottom: float, colour: QColor, pointed: bool) -> None:
    dot = pencil.dot
    down = 1.0 if bottom > top else -1.0
    size = min(8 * dot, abs(bottom - top) / 3)
    pencil.lines([((at, top), (at, bottom))], colour, 2.5 if pointed else 1.0)
    for y, way in ((top, -down), (bottom, down)):
        pencil.polygon(symbols.arrow((at, y), (0.0, way), size), colour, None)


def _dimension_text(
    pencil: Pencil, key: str, text: str, x: float, y: float, colour: QColor, theme: Theme, placer: Placer
) -> Label:
    dot = pencil.dot
    wide, high = pencil.width(text) + 10 * dot, pencil.height() + 2 * dot
    box = Box(x - wide / 2, y - high / 2, wide, high)
    pencil.box(box, theme.paper)
    pencil.text(x, y, text, colour, align=0.5)
    placer.block_text(box)
    return Label(key, "lift", text, box)
