"""What lies under the line: grid, axes and the levels of the fluid."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial
from itertools import chain

from PySide6.QtCore import QRectF

from sketch.drawing import symbols
from sketch.drawing.labels import Box, Label, LabelKind, LabelPlace
from sketch.drawing.pencil import DASH, SMALL, Pencil
from sketch.drawing.placer import Placer
from sketch.drawing.tanks import corners_of
from sketch.drawing.view import AXIS_BOTTOM, AXIS_LEFT, XY, View
from sketch.look.colours import Theme
from solver.geometry.reservoirs import level as level_of
from solver.layout.parts import Layout, Level
from solver.quantities import units
from solver.quantities.units import Kind, System, typeset

MOST_TICKS = 200

SMALLER = 10.7
"""Logical pixels: letters of a level that has no room for the usual ones, 8 points on paper."""

_TRIES = ((SMALL, 1, True), (SMALLER, 1, True), (SMALL, 6, True), (SMALLER, 6, True), (SMALLER, 6, False))
"""For the label of a level: its letters, how many half lines of text it may stand off the end of its line
(farther off it would be taken for another's), and whether the order of heights holds anywhere or only over
and under it."""


@dataclass(frozen=True, slots=True)
class LevelLine:
    """A fluid level as drawn."""

    reservoir: str
    name: str  # "minimum level", "normal level" or "drawn-down level"
    z: float  # [m]
    left: float
    right: float
    y: float
    used: bool  # the calculation stands on it


def tick_step(scale: float, system: System, least: float) -> float:
    """A round step of the shown unit [m] that is at least `least` device units long."""
    one = units.from_display(1.0, Kind.LENGTH, system)
    wanted = least / (scale * one)
    power = 10.0 ** math.floor(math.log10(wanted))
    for factor in (1.0, 2.0, 5.0, 10.0):
        if factor * power >= wanted * (1.0 - 1e-9):
            return factor * power * one
    return 10.0 * power * one


def ticks(low: float, high: float, step: float) -> list[float]:
    """Multiples of `step` from low to high."""
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [k * step for k in range(first, min(last, first + MOST_TICKS) + 1)]


def tick_text(value: float, step: float, system: System) -> str:
    shown = units.to_display(step, Kind.LENGTH, system)
    places = max(0, -math.floor(math.log10(shown) + 1e-9))
    return units.with_places(units.to_display(value, Kind.LENGTH, system), places)


@dataclass(frozen=True, slots=True)
class _Ruling:
    """Grid lines, tick marks and figures of a view: the same as long as nobody pans or zooms."""

    grid: list[QRectF]
    marks: list[QRectF]
    figures: tuple[tuple[float, float, str, float], ...]  # x, y, text, alignment


@lru_cache(maxsize=16)
def _ruling(view: View, size: XY, system: System) -> _Ruling:
    dot, (width, height) = view.dot, size
    left, bottom = AXIS_LEFT * dot, height - AXIS_BOTTOM * dot
    step = tick_step(view.scale, system, 56 * dot)
    (low_x, low_y), (high_x, high_y) = view.world(left, bottom), view.world(width, 0.0)
    across = [(value, view.device(value, 0.0)[0]) for value in ticks(low_x, high_x, step)]
    up = [(value, view.device(0.0, value)[1]) for value in ticks(low_y, high_y, step)]
    grid = [_upright(x, 0.0, bottom, dot) for _, x in across] + [_level(left, width, y, dot) for _, y in up]
    across = [(value, x) for value, x in across if x < width - 44 * dot]
    up = [(value, y) for value, y in up if 24 * dot < y < bottom - 4 * dot]
    marks = [_upright(left, 0.0, bottom, dot), _level(left, width, bottom, dot)]
    marks += [_upright(x, bottom, bottom + 4 * dot, dot) for _, x in across]
    marks += [_level(left - 4 * dot, left, y, dot) for _, y in up]
    unit = units.unit(Kind.LENGTH, system)
    figures = [(x, bottom + 14 * dot, tick_text(value, step, system), 0.5) for value, x in across]
    figures += [(left - 8 * dot, y, tick_text(value, step, system), 1.0) for value, y in up]
    figures += [
        (width - 8 * dot, bottom + 14 * dot, f"x, {unit}", 1.0),
        (8 * dot, 12 * dot, f"up, {unit}", 0.0),
    ]
    return _Ruling(grid, marks, tuple(figures))


def _upright(x: float, top: float, bottom: float, dot: float) -> QRectF:
    """A hairline on whole device units: sharp, and quicker than a stroke."""
    return QRectF(round(x - dot / 2), top, dot, bottom - top)


def _level(left: float, right: float, y: float, dot: float) -> QRectF:
    return QRectF(left, round(y - dot / 2), right - left, dot)


def grid(pencil: Pencil, view: View, size: XY, theme: Theme, system: System) -> None:
    """Light lines at the ticks of both axes."""
    key = ("grid", view, size, system)
    pencil.repeated(key, (theme,), lambda each: each.rules(_ruling(view, size, system).grid, theme.grid))


def axes(pencil: Pencil, view: View, size: XY, theme: Theme, system: System) -> None:
    """Ticks and figures on two strips, above whatever has been drawn there."""
    key = ("axes", view, size, system)
    pencil.repeated(key, (theme,), lambda each: _axes(each, view, size, theme, system))


def _axes(pencil: Pencil, view: View, size: XY, theme: Theme, system: System) -> None:
    left, bottom = AXIS_LEFT * view.dot, size[1] - AXIS_BOTTOM * view.dot
    pencil.box(Box(0.0, 0.0, left, size[1]), theme.paper)
    pencil.box(Box(0.0, bottom, size[0], size[1] - bottom), theme.paper)
    ruling = _ruling(view, size, system)
    pencil.rules(ruling.marks, theme.construction)
    for x, y, text, align in ruling.figures:
        pencil.text(x, y, text, theme.quiet, align=align)


def spans(outline: Sequence[XY], level: float) -> list[tuple[float, float]]:
    """Left and right ends of the free surface at a level [m]."""
    crossings = sorted(
        ax + (bx - ax) * (level - ay) / (by - ay)
        for (ax, ay), (bx, by) in zip(outline, (*outline[1:], outline[0]), strict=True)
        if (ay <= level) != (by <= level)
    )
    return list(zip(crossings[::2], crossings[1::2], strict=False))


def levels(layout: Layout, view: View, size: XY, used: Level) -> list[LevelLine]:
    """Every free surface in sight, the used levels first."""
    least, most = AXIS_LEFT * view.dot, size[0]
    lines = []
    for name, reservoir in layout.reservoirs.items():
        corners = corners_of(reservoir)
        full = reservoir.draw_down is None
        for which in (Level.MINIMUM, Level.NORMAL) if full else Level:
            z = level_of(reservoir, which)
            title = f"{which.replace(' ', '-')} level"
            is_used = which == used or (full and used == Level.DRAWN_DOWN and which == Level.MINIMUM)
            for left, right in spans(corners, z):
                (x1, y), (x2, _) = view.device(left, z), view.device(right, z)
                x1, x2 = max(x1, least), min(x2, most)
                if x1 < x2 and 0.0 < y < size[1]:
                    lines.append(LevelLine(name, title, z, x1, x2, y, is_used))
    return sorted(lines, key=lambda level: not level.used)


def tanks(layout: Layout, view: View) -> list[Box]:
    """The rectangle round every reservoir."""
    boxes = []
    for reservoir in layout.reservoirs.values():
        corners = [view.device(x, y) for x, y in corners_of(reservoir)]
        left, top = min(x for x, _ in corners), min(y for _, y in corners)
        boxes.append(Box(left, top, max(x for x, _ in corners) - left, max(y for _, y in corners) - top))
    return boxes


def level_lines(pencil: Pencil, lines: Sequence[LevelLine], theme: Theme, placer: Placer) -> None:
    """The free surfaces, under the line: the level used in full, the other dashed."""
    for level in lines:
        line = ((level.left, level.y), (level.right, level.y))
        placer.lines.block_line(line, 2 * pencil.dot)
        pencil.lines([line], theme.level, 1.5 if level.used else 1.0, () if level.used else DASH)


def mark_levels(
    pencil: Pencil, lines: Sequence[LevelLine], theme: Theme, placer: Placer, system: System
) -> list[Label]:
    """The marks of the levels, their names and elevations, in a reservoir in the order of their heights."""
    placed = list[tuple[LevelLine, Label]]()
    for level in lines:
        if level.right - level.left > 24 * pencil.dot:
            others = [(each.z, label.box) for each, label in placed if each.reservoir == level.reservoir]
            label = _mark(pencil, level, typeset(level.z, Kind.LENGTH, system), theme, placer, others)
            placed += [(level, label)] if label is not None else []
    return [label for _, label in placed]


def _in_order(z: float, others: Sequence[tuple[float, Box]], anywhere: bool, box: Box) -> bool:
    """Whether a label stands above those of lower levels and under those of higher ones, be they anywhere
    or over and under it."""
    middle = box.y + box.height / 2
    return all(
        (z - level) * (other.y + other.height / 2 - middle) >= 0.0
        for level, other in others
        if anywhere or (box.x < other.right and other.x < box.right)
    )


def _mark(
    pencil: Pencil,
    level: LevelLine,
    figure: str,
    theme: Theme,
    placer: Placer,
    others: Sequence[tuple[float, Box]],
) -> Label | None:
    """On its surface, in full or in short, else at its end; in smaller letters where there is no room."""
    dot, short = pencil.dot, f"{level.name.removesuffix(' level')} {figure}"
    for letters, half_lines, anywhere in _TRIES:
        fits = partial(_in_order, level.z, others, anywhere)
        high = pencil.height(letters) + 1 * dot
        for places in (on_surface, beside_reservoir):
            for text in (f"{level.name} {figure}", short):
                wide = pencil.width(text, letters) + 20 * dot
                boxes = places(level, wide, high, dot, placer)
                box = placer.lines.first_free(filter(fits, boxes) if others else boxes)
                if box is not None:
                    return _marked(pencil, level, text, box, theme, placer, letters)
        wide = pencil.width(short, letters) + 8 * dot
        surface = tuple(on_surface(level, wide, high, dot, placer))
        under = math.ceil((level.y + 1.5 * dot) / placer.lines.cell) * placer.lines.cell
        on = ((None, box) for box in (*surface, *(box._replace(y=under) for box in surface)))
        for foot, box in chain(on, _ends(level, wide, high, dot, half_lines)):
            leader = (foot, box.nearest(*foot)) if foot else None
            if fits(box) and placer.lines.free(box) and (not leader or placer.texts.free_line(*leader)):
                return _plain(
                    pencil, level, short, LabelPlace(level.reservoir, box, leader), theme, placer, letters
                )
    return None


def _marked(
    pencil: Pencil, level: LevelLine, text: str, box: Box, theme: Theme, placer: Placer, letters: float
) -> Label:
    """A label with the mark of a level, which stands on the side of the reservoir."""
    dot = pencil.dot
    placer.block_text(box)
    left = box.right <= level.left
    mark, begin = (box.right - 7 * dot, box.x + 2 * dot) if left else (box.x + 7 * dot, box.x + 18 * dot)
    triangle, short = symbols.level_mark(mark, level.y, 9 * dot)
    if left or box.x >= level.right:
        out = -6 * dot if left else 6 * dot
        stub = (level.left if left else level.right, level.y), (mark + out, level.y)
        pencil.lines([stub], theme.level, 0.8)
        placer.lines.block_line(stub, 2 * dot)
    pencil.polygon(triangle, theme.paper, theme.level, 1.2)
    for line in short if level.used else ():
        placer.lines.block_line(line, 2 * dot)
    pencil.lines(short if level.used else (), theme.level)
    pencil.text(begin, box.y + box.height / 2, text, theme.level, letters)
    return Label(level.reservoir, LabelKind.LEVEL, text, box)


def _plain(
    pencil: Pencil,
    level: LevelLine,
    text: str,
    place: LabelPlace,
    theme: Theme,
    placer: Placer,
    letters: float,
) -> Label:
    """A label without a mark, where there is no room for one."""
    box, leader = place.box, place.leader
    placer.take(place)
    pencil.lines([leader] if leader else [], theme.level, 0.8)
    pencil.text(box.x + 4 * pencil.dot, box.y + box.height / 2, text, theme.level, letters)
    return Label(level.reservoir, LabelKind.LEVEL, text, box, leader)


def _ends(
    level: LevelLine, wide: float, high: float, dot: float, most: int
) -> Iterator[tuple[XY | None, Box]]:
    """Places about the ends of a level line, the nearest first, each with the end it needs a leader to."""
    for half_lines in range(most + 1):
        for way in (-1.0, 1.0)[: half_lines + 1]:
            top = level.y - high / 2 + way * half_lines * high / 2
            for gap in (4 * dot, 8 * dot):
                left, right = (level.left, level.y), (level.right, level.y)
                yield left if half_lines else None, Box(level.left - gap - wide, top, wide, high)
                yield right if half_lines else None, Box(level.right + gap, top, wide, high)


def on_surface(level: LevelLine, wide: float, high: float, dot: float, placer: Placer) -> Iterator[Box]:
    """Where a label of that size may lie on its level, the best first."""
    y, room = _over(level, high, dot, placer), level.right - level.left
    for share in (0.5, 0.3, 0.7, 0.1, 0.9):
        x = level.left + room * share - wide / 2
        box = Box(min(max(x, level.left + 6 * dot), level.right - wide - 6 * dot), y, wide, high)
        if box.x >= level.left:
            yield box


def beside_reservoir(level: LevelLine, wide: float, high: float, dot: float, placer: Placer) -> Iterator[Box]:
    """Where it may lie outside the walls, at the height of its level."""
    y = _over(level, high, dot, placer)
    for gap in (4 * dot, 8 * dot):  # the cells of the wall may reach beyond the first
        for x in (level.left - wide - gap, level.right + gap):
            yield Box(x, y, wide, high)


def _over(level: LevelLine, high: float, dot: float, placer: Placer) -> float:
    """Down to a whole cell, or the line that the label stands on would count as in its way."""
    cell = placer.lines.cell
    return math.floor((level.y - 1.5 * dot) / cell) * cell - high
