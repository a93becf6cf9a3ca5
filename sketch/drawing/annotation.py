"""What is dimensioned on the elevation: the lift to the port, and the highest port."""

from __future__ import annotations

import math

from PySide6.QtGui import QColor

from sketch.drawing import symbols
from sketch.drawing.glyphs import pump_circle
from sketch.drawing.labels import Anchor, Box, Label, LabelKind, Wish
from sketch.drawing.pencil import DASH, Pencil
from sketch.drawing.placer import Placer
from sketch.drawing.tags import percent
from sketch.drawing.view import AXIS_BOTTOM, AXIS_LEFT, XY, View
from sketch.look.colours import CREDIT, Theme, text_on
from solver.geometry.outline import bore
from solver.layout.parts import Layout
from solver.ledger.path import HeadEntryKind
from solver.ledger.solve import PumpLedger, Solution
from solver.quantities.units import Kind, System, shown_beside, typeset

SHORT, OVERHANG = 30.0, 14.0
"""Logical pixels below which the arrows of a dimension stand outside it, and how far its line goes there."""


def highest_port(
    pencil: Pencil,
    view: View,
    size: XY,
    z: float,
    theme: Theme,
    system: System,
    placer: Placer,
    too_low: str = "",
    in_all_cases: bool = False,
    of: str = "",
) -> Label | None:
    """The dashed line across the sheet where the budget would be used up; off the sheet, where it lies.

    too_low: where a pump at this height would have to stand, where that is no place for one; in_all_cases:
    whether the budget of the first of several cases would be used up there; of: the pump, where there are
    several.
    """
    dot, y = view.dot, view.device(0.0, z)[1]
    low = size[1] - AXIS_BOTTOM * dot
    within = shown_beside(z, Kind.LENGTH, system, above=False)  # so that what is written is within too
    named = f"highest port of {of}" if of else "highest port"
    text, where = f"{named} {typeset(within, Kind.LENGTH, system)}", ""
    if too_low:
        where = f", {too_low}"
    elif y < 0.0 or y > low:
        where = ", above the view" if y < 0.0 else ", below the view"
    high, at = pencil.height(), min(max(y, 0.0), low)
    texts = [f"{text} in all cases{where}"] if in_all_cases else []
    texts.append(f"{text}{where}")
    if not too_low and 0.0 <= y <= low:
        texts.append(named)  # a line without a name says less than one without its figure
    for text in texts:
        box = _beside_line(at, size[0], pencil.width(text) + 8 * dot, high, dot, placer)
        if box is not None:
            break
    if 0.0 <= y <= low:
        spans = placer.texts.clear_spans(AXIS_LEFT * dot, size[0], y, 4 * dot)
        pencil.lines([((start, y), (end, y)) for start, end in spans], theme.limit, 1.2, DASH)
        placer.lines.block_line(((AXIS_LEFT * dot, y), (size[0], y)), 2 * dot)
    if box is None:
        return None
    placer.block_text(box)
    pencil.text(box.x + 4 * dot, box.y + high / 2, text, theme.limit)
    return Label("highest port", LabelKind.LIMIT, text, box)


def _beside_line(y: float, width: float, wide: float, high: float, dot: float, placer: Placer) -> Box | None:
    cell = placer.lines.cell
    above = math.floor((y - 1.5 * dot) / cell) * cell - high
    under = math.ceil((y + 1.5 * dot) / cell) * cell
    left, right = AXIS_LEFT * dot + 8 * dot, width - wide - 8 * dot
    xs = (left, right, (left + right) / 2, left + (right - left) / 4, right - (right - left) / 4)
    return placer.lines.first_free(Box(x, top, wide, high) for x in xs for top in (above, under))


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
    """The height from the fluid level to the port, dimensioned beside the pump.

    A port of which the whole bore is below the level is flooded: the head there is a credit, and its share
    stands with the height.
    """
    dot, ledger = view.dot, solution.pumps[pump]
    x, y = (value.si for value in layout.pumps[pump].at)
    height = y - ledger.fluid_level
    port, level = view.device(x, y), view.device(x, ledger.fluid_level)[1]
    if abs(port[1] - level) < 4.0 * dot:
        return None
    word = "lift" if height > 0 else "flooded" if -height > bore(layout.pumps[pump]) / 2 else "partly flooded"
    text = f"{word} {typeset(abs(height), Kind.LENGTH, system)}"
    share = credit(ledger)
    cell = pencil.width(share, bold=True) + 10 * dot if share else 0.0
    wide, high = cell + pencil.width(text) + 8 * dot, pencil.height() + 3 * dot
    radius = pump_circle(layout, pump, view)[2]
    at, box = _free_place(port, level, radius, wide, high, placer)
    colour = theme.halo if pointed else theme.quiet
    over = math.copysign(_overhang(abs(level - port[1]), dot), level - port[1])
    placer.lines.block_line(((at, port[1] - over), (at, level + over)), 4 * dot)
    leader = None
    if box is None:
        wish = Wish(f"lift {pump}", wide, high, (Anchor(at, (port[1] + level) / 2, 1.0, 0.0),))
        place = placer.place(wish)
        if (
            place is None and share
        ):  # a credit is among the largest shares: sooner without its height than none
            text, place = "", placer.place(wish._replace(width=cell))
        if place is None:
            return None  # a dimension without its figure says nothing
        box, leader = place.box, place.leader
    _extend(pencil, layout, ledger, view, port, level, at, radius, theme, placer)
    _dimension(pencil, at, port[1], level, colour, pointed)
    pencil.lines([leader] if leader else [], theme.construction, 0.8)
    placer.block_text(box)
    if leader is None:  # it may stand on its line
        pencil.box(box, theme.paper)
    _caption(pencil, box, text, share, cell, colour, theme)
    return Label(f"lift {pump}", LabelKind.LIFT, f"{share} {text}".strip(), box, leader)


def credit(ledger: PumpLedger) -> str:
    """The share that the head over a flooded port gives; "" where it gives none."""
    first = ledger.entries[0]
    if first.kind != HeadEntryKind.FLOODED or first.share is None:
        return ""
    return percent(first.share)


def _free_place(
    port: XY, level: float, radius: float, wide: float, high: float, placer: Placer
) -> tuple[float, Box | None]:
    """Where the dimension line crosses least, and a place on it where its text covers nothing."""
    dot, width = placer.dot, placer.lines.columns * placer.lines.cell
    low, deep = min(port[1], level), max(port[1], level)
    best: tuple[float, float, Box | None] | None = None
    for away in (28, 48, 72, 100, 140, 190, 250):
        if best is not None and best[0] <= away / 800:
            break
        for at in (port[0] + 2 * radius + away * dot, port[0] - 2 * radius - away * dot):
            if not AXIS_LEFT * dot + 8 * dot < at < width - 8 * dot:
                continue
            box = _caption_box(at, low, deep, wide, high, placer)
            blocked = 0.5 if box is None else 0.0
            cost = _crossing(port, at, low, deep, radius, placer) + away / 800 + blocked
            if best is None or cost < best[0]:
                best = (cost, at, box)
    if best is None:
        at = min(max(port[0] + 2 * radius, AXIS_LEFT * dot), width)
        return at, _caption_box(at, low, deep, wide, high, placer)
    return best[1], best[2]


THROUGH_TEXT = 3.0
"""Of the height of a dimension line, that it stands over other lines sooner than through a text."""


def _crossing(port: XY, at: float, low: float, deep: float, radius: float, placer: Placer) -> float:
    """How much stands in the way of a dimension line and of the line from the port to it."""
    dot = placer.dot
    over = _overhang(deep - low, dot)
    strip = Box(at - 6 * dot, low - over, 12 * dot, deep - low + 2 * over)
    written = THROUGH_TEXT if placer.texts.occupied_share(strip) > 0.0 else 0.0
    # Past the symbol, which may stand on either side of the port; a line that runs along a pipe is the worst.
    start = port[0] + math.copysign(2 * radius + 10 * dot, at - port[0])
    along = placer.lines.crossed((start, port[1]), (at, port[1]))
    return placer.lines.occupied_share(strip) + written + min(along / 10, 1.0)


def _caption_box(at: float, low: float, deep: float, wide: float, high: float, placer: Placer) -> Box | None:
    """Across a long dimension line, beside a short one; None where nothing is free."""
    dot = placer.dot
    across = [] if deep - low < SHORT * dot else [at - wide / 2]
    xs = (*across, at + 8 * dot, at - 8 * dot - wide)
    tops = [low + (deep - low) * share - high / 2 for share in (0.5, 0.35, 0.65, 0.2, 0.8)]
    return placer.lines.first_free(Box(x, top, wide, high) for x in xs for top in tops)


def _extend(
    pencil: Pencil,
    layout: Layout,
    ledger: PumpLedger,
    view: View,
    port: XY,
    level: float,
    at: float,
    radius: float,
    theme: Theme,
    placer: Placer,
) -> None:
    """Extension lines from the port and from the free surface, each with its gap and its overshoot."""
    dot, way = view.dot, math.copysign(1.0, at - port[0])
    walls = [view.device(x.si, 0.0)[0] for x, _ in layout.reservoirs[ledger.reservoir].outline]
    edge = min(max(at, min(walls)), max(walls))
    # Past the pump's symbol when the dimension stands behind it.
    start = port[0] + way * (2 * radius + 12 * dot if _behind(layout, ledger.pump, view, way) else 10 * dot)
    clear = placer.texts.clear_to(at, start, port[1])  # no line through the name of a part that lies between
    lines = [((clear, port[1]), (at + way * 5 * dot, port[1]))]
    if abs(at - edge) > 6 * dot:
        out = math.copysign(1.0, at - edge)
        begin = placer.texts.clear_to(at, edge + out * 4 * dot, level)
        lines.append(((begin, level), (at + out * 5 * dot, level)))
    pencil.lines(lines, theme.construction, 0.8)
    for line in lines:
        placer.lines.block_line(line, 3 * dot)


def _behind(layout: Layout, pump: str, view: View, way: float) -> bool:
    x = view.device(layout.pumps[pump].at[0].si, 0.0)[0]
    return (pump_circle(layout, pump, view)[0] - x) * way > 0.0


def _dimension(pencil: Pencil, at: float, port: float, level: float, colour: QColor, pointed: bool) -> None:
    dot, down = pencil.dot, math.copysign(1.0, level - port)
    short = abs(level - port) < SHORT * dot
    inward = -down if not short else down
    over = _overhang(abs(level - port), dot) * down
    pencil.lines([((at, port - over), (at, level + over))], colour, 2.5 if pointed else 1.0)
    pencil.polygon(symbols.arrow((at, port), (0.0, inward), 8 * dot), colour, None)
    pencil.polygon(symbols.arrow((at, level), (0.0, -inward), 8 * dot), colour, None)


def _overhang(high: float, dot: float) -> float:
    """How far a dimension line goes past its ends on either side: a short one has its arrows outside."""
    return OVERHANG * dot if high < SHORT * dot else 0.0


def _caption(
    pencil: Pencil, box: Box, text: str, share: str, cell: float, colour: QColor, theme: Theme
) -> None:
    dot, middle = pencil.dot, box.y + box.height / 2
    if share:
        fill = theme.classes[CREDIT]
        pencil.box(Box(box.x, box.y, cell, box.height), fill, theme.casing, radius=2.0)
        pencil.text(box.x + cell / 2, middle, share, text_on(fill), bold=True, align=0.5)
    pencil.text(box.x + cell + 4 * dot, middle, text, colour)
