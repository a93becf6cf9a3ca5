"""Symbols of the line: ISO 1219-1 where it has one (pump, filter), general drawing practice for the rest.

Each is a handful of convex polygons and lines about a point, along the direction of flow, so that it can be
filled with the colour of a share and hatched like anything else. No Qt here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

from sketch.drawing.glyphs import Glyph, Mark, SymbolKind, reach
from sketch.drawing.labels import Box
from sketch.drawing.polygons import Line as Line
from sketch.drawing.polygons import Polygon as Polygon
from sketch.drawing.polygons import clipped as clipped
from sketch.drawing.polygons import hatch as hatch
from sketch.drawing.polygons import ribbon as ribbon
from sketch.drawing.view import XY
from solver.layout.kinds import FittingKind, IntakeKind
from solver.network.rows import RowKind


@dataclass(frozen=True, slots=True)
class Symbol:
    """What to fill, what to stroke, what to stroke dashed, and what to fill with ink."""

    fills: tuple[Polygon, ...] = ()
    lines: tuple[Line, ...] = ()
    dashed: tuple[Line, ...] = ()
    solid: tuple[Polygon, ...] = ()


@dataclass(frozen=True, slots=True)
class Frame:
    """A local frame: `a` along the flow, `b` to its left as seen on the device."""

    x: float
    y: float
    ux: float
    uy: float

    def at(self, a: float, b: float) -> XY:
        """A point of the frame on the device."""
        return self.x + self.ux * a + self.uy * b, self.y + self.uy * a - self.ux * b

    def polygon(self, *points: XY) -> Polygon:
        """A polygon through points of the frame, on the device."""
        return tuple(self.at(a, b) for a, b in points)

    def line(self, a1: float, b1: float, a2: float, b2: float) -> Line:
        """A line between two points of the frame, on the device."""
        return self.at(a1, b1), self.at(a2, b2)


def symbol(glyph: Glyph, dot: float) -> Symbol:
    """The symbol of a part, where it stands."""
    (x, y), drawn = glyph.points[0], symbol_of(look(glyph, dot))
    return Symbol(
        tuple(_moved(polygon, x, y) for polygon in drawn.fills),
        tuple(((ax + x, ay + y), (bx + x, by + y)) for (ax, ay), (bx, by) in drawn.lines),
        tuple(((ax + x, ay + y), (bx + x, by + y)) for (ax, ay), (bx, by) in drawn.dashed),
        tuple(_moved(polygon, x, y) for polygon in drawn.solid),
    )


def fills(glyph: Glyph, dot: float) -> tuple[Polygon, ...]:
    """What of a symbol is filled, where it stands."""
    x, y = glyph.points[0]
    return tuple(_moved(polygon, x, y) for polygon in symbol_of(look(glyph, dot)).fills)


def _moved(polygon: Polygon, dx: float, dy: float) -> Polygon:
    return tuple([(x + dx, y + dy) for x, y in polygon])


class Look(NamedTuple):
    """All that a symbol's outline hangs on: those that look alike are worked out once."""

    kind: RowKind | SymbolKind
    width: float
    ux: float
    uy: float
    legs: tuple[XY, ...]
    dot: float
    wide: float = 0.0
    closed: bool = False


def look(glyph: Glyph, dot: float) -> Look:
    """How a glyph's symbol looks, wherever it stands."""
    return Look(glyph.kind, glyph.width, glyph.ux, glyph.uy, glyph.legs, dot, glyph.wide, glyph.closed)


@lru_cache(maxsize=1024)
def symbol_of(wanted: Look) -> Symbol:
    """The symbol that looks so, drawn about the origin [device units]."""
    kind, width, ux, uy, legs, dot, wide, closed = wanted
    glyph = Glyph("", "", kind, ((0.0, 0.0),), width, ux=ux, uy=uy, legs=legs, wide=wide)
    length = reach(glyph, dot)
    draw = _DRAWN.get(kind, _device)
    drawn = draw(Frame(0.0, 0.0, ux, uy), glyph, length, max(0.62 * length, width / 2 + 2.0 * dot))
    # A closed valve is drawn solid, as on any piping diagram.
    return replace(drawn, solid=(*drawn.fills, *drawn.solid)) if closed else drawn


@lru_cache(maxsize=2048)  # most of a line stands still while a part of it is dragged
def extent(glyph: Glyph, dot: float) -> Box:
    """The rectangle that a symbol covers."""
    (x, y), (left, top, wide, high) = glyph.points[0], _extent(look(glyph, dot))
    return Box(x + left, y + top, wide, high)


@lru_cache(maxsize=1024)
def _extent(wanted: Look) -> Box:
    drawn = symbol_of(wanted)
    points = [point for polygon in drawn.fills for point in polygon]
    points += [point for line in drawn.lines for point in line]
    left, top = min(x for x, _ in points), min(y for _, y in points)
    return Box(left, top, max(x for x, _ in points) - left, max(y for _, y in points) - top)


def _bow(frame: Frame, length: float, half: float) -> tuple[Polygon, Polygon]:
    return (
        frame.polygon((-length, half), (0.0, 0.0), (-length, -half)),
        frame.polygon((length, half), (0.0, 0.0), (length, -half)),
    )


def _gate(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    stem = frame.line(0.0, 0.0, 0.0, half * 1.5)
    wheel = frame.line(-half * 0.55, half * 1.5, half * 0.55, half * 1.5)
    return Symbol(_bow(frame, length, half), (stem, wheel))


def _ball(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    ball = circle(frame.x, frame.y, 0.42 * length)
    stem = frame.line(0.0, 0.0, 0.0, half * 1.5)
    lever = frame.line(0.0, half * 1.5, length * 0.8, half * 1.5)
    return Symbol((*_bow(frame, length, half), ball), (stem, lever))


def _plug(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    k = 0.36 * length
    body = frame.polygon((-k, 0.0), (0.0, k), (k, 0.0), (0.0, -k))
    return Symbol((*_bow(frame, length, half), body), (frame.line(0.0, 0.0, 0.0, half * 1.5),))


def _globe(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    """A gate valve with a dot where its disc seats."""
    gate = _gate(frame, glyph, length, half)
    return replace(gate, solid=(circle(frame.x, frame.y, max(0.3 * length, 2.0)),))


def _slanted(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    """A globe valve whose stem leans against the flow."""
    stem = frame.line(0.0, 0.0, -length * 0.8, half * 1.5)
    wheel = frame.line(-length * 0.8 - half * 0.4, half * 1.15, -length * 0.8 + half * 0.4, half * 1.85)
    return Symbol(_bow(frame, length, half), (stem, wheel), solid=_globe(frame, glyph, length, half).solid)


def _diaphragm(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    """A bonnet over the two halves, with the diaphragm between."""
    bonnet = frame.polygon(
        (-half * 0.7, half), (-half * 0.5, half * 1.4), (half * 0.5, half * 1.4), (half * 0.7, half)
    )
    stem = frame.line(0.0, 0.0, 0.0, half)
    return Symbol((*_bow(frame, length, half), bonnet), (stem,))


def _three_way(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    """Three halves; the one across is the port out of use, or that through which the flow turns."""
    across = frame.polygon((half, -length), (0.0, 0.0), (-half, -length))
    stem = frame.line(0.0, 0.0, 0.0, half * 1.5)
    turned = glyph.kind.startswith("three-way valve, branch")
    turn = (frame.line(-length * 0.6, 0.0, 0.0, -length * 0.6),) if turned else ()
    return Symbol((*_bow(frame, length, half), across), (stem, *turn))


COLLAR = 0.35
"""Of a reducer's length from its middle to its slim end: how far its wide end reaches over its line."""


def _concentric(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    """The cone begins where the wide line ends, in the middle."""
    slim, wide = glyph.width / 2, max(glyph.wide, glyph.width) / 2
    upper = ((-COLLAR * length, wide), (0.0, wide), (length, slim))
    return Symbol((frame.polygon(*upper, *((a, -b) for a, b in reversed(upper))),))


def _eccentric(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    """Flat on its upper side, where a level line is to hold no air. Its ends are as wide as its lines, which
    are drawn on one centre line."""
    slim, wide = glyph.width / 2, max(glyph.wide, glyph.width) / 2
    up = -1.0 if frame.ux < 0.0 else 1.0
    flat, slope = ((-COLLAR * length, wide), (length, wide)), ((length, -slim), (0.0, -wide))
    body = (*flat, *slope, (-COLLAR * length, -wide))
    return Symbol((frame.polygon(*((a, up * b) for a, b in body)),))


def _butterfly(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    box = frame.polygon(
        (-length * 0.6, half), (length * 0.6, half), (length * 0.6, -half), (-length * 0.6, -half)
    )
    disc = frame.line(-length * 0.5, -half * 0.8, length * 0.5, half * 0.8)
    return Symbol((box,), (disc,), solid=(circle(frame.x, frame.y, max(0.12 * length, 1.5)),))


def _angle(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    body = []
    for ux, uy in glyph.legs or ((-glyph.ux, -glyph.uy), (glyph.uy, -glyph.ux)):
        leg = Frame(frame.x, frame.y, ux, uy)
        body.append(leg.polygon((length, half), (0.0, 0.0), (length, -half)))
    return Symbol(tuple(body))


def _check(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    """Flow passes from the open side of the triangle to the bar at its tip."""
    body = frame.polygon((-length * 0.8, half), (length * 0.6, 0.0), (-length * 0.8, -half))
    return Symbol((body,), (frame.line(length * 0.6, half, length * 0.6, -half),))


def _diamond(frame: Frame, length: float) -> Polygon:
    return frame.polygon((-length, 0.0), (0.0, length), (length, 0.0), (0.0, -length))


def _filter(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    """ISO 1219-1 filter or strainer: a diamond with the element dashed across the flow."""
    return Symbol((_diamond(frame, length),), dashed=(frame.line(0.0, length, 0.0, -length),))


def _foot(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    """A strainer with the check's tip on its far side."""
    tip = frame.polygon(
        (-length * 0.35, length * 0.42), (length * 0.4, 0.0), (-length * 0.35, -length * 0.42)
    )
    bar = frame.line(length * 0.4, length * 0.42, length * 0.4, -length * 0.42)
    mesh = frame.line(-length * 0.6, length * 0.4, -length * 0.6, -length * 0.4)
    return Symbol((_diamond(frame, length), tip), (bar,), (mesh,))


def _flexible(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    thick = glyph.width / 2 + (half - glyph.width / 2) * 0.6
    body = frame.polygon((-length, thick), (length, thick), (length, -thick), (-length, -thick))
    ribs = tuple(frame.line(length * k, -thick, length * k, thick) for k in (-0.6, -0.2, 0.2, 0.6))
    return Symbol((body,), ribs)


def _device(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    body = frame.polygon((-length, half), (length, half), (length, -half), (-length, -half))
    cross = (frame.line(-length, -half, length, half), frame.line(-length, half, length, -half))
    return Symbol((body,), cross)


def _tee(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    body: list[Polygon] = []
    k = glyph.width / 2
    for ux, uy in glyph.legs:
        leg = Frame(frame.x, frame.y, ux, uy)
        body.append(leg.polygon((-k, k), (length, k), (length, -k), (-k, -k)))
    return Symbol(tuple(body) or (circle(frame.x, frame.y, length),))


def _port(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    k = glyph.width / 2 + max(0.12 * glyph.width, length)
    return Symbol((frame.polygon((-length, k), (length, k), (length, -k), (-length, -k)),))


def _bore_change(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    wide, slim = glyph.width / 2 + length * 0.55, glyph.width / 2
    return Symbol((frame.polygon((-length, wide), (length, slim), (length, -slim), (-length, -wide)),))


def _bell(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    slim, wide = glyph.width / 2, glyph.width / 2 + length * 0.8
    return Symbol((frame.polygon((-length, wide), (length, slim), (length, -slim), (-length, -wide)),))


def _end(frame: Frame, glyph: Glyph, length: float, half: float) -> Symbol:
    k = glyph.width / 2 + 0.4 * length
    return Symbol((frame.polygon((-length, k), (length, k), (length, -k), (-length, -k)),))


_DRAWN = {
    FittingKind.GATE_VALVE: _gate,
    FittingKind.BALL_VALVE: _ball,
    FittingKind.REDUCED_BALL_VALVE: _ball,
    FittingKind.PLUG_VALVE: _plug,
    FittingKind.REDUCED_PLUG_VALVE: _plug,
    FittingKind.THREE_WAY_THROUGH: _three_way,
    FittingKind.THREE_WAY_BRANCH: _three_way,
    FittingKind.GLOBE_VALVE: _globe,
    FittingKind.Y_PATTERN_VALVE: _slanted,
    FittingKind.DIAPHRAGM_VALVE: _diaphragm,
    FittingKind.BUTTERFLY_VALVE: _butterfly,
    FittingKind.ANGLE_VALVE: _angle,
    FittingKind.SWING_CHECK: _check,
    FittingKind.LIFT_CHECK: _check,
    FittingKind.TILTING_DISC_CHECK: _check,
    IntakeKind.FOOT_VALVE: _foot,
    IntakeKind.POPPET_FOOT_VALVE: _foot,
    FittingKind.CONCENTRIC_REDUCER: _concentric,
    FittingKind.ECCENTRIC_REDUCER: _eccentric,
    FittingKind.FILTER: _filter,
    IntakeKind.STRAINER: _filter,
    FittingKind.FLEXIBLE_CONNECTOR: _flexible,
    Mark.TEE: _tee,
    Mark.PORT: _port,
    Mark.BORE_CHANGE: _bore_change,
    IntakeKind.BELL_MOUTH: _bell,
    IntakeKind.PLAIN_END: _end,
    IntakeKind.WALL_NOZZLE: _port,
    Mark.STUB: _end,
}


def circle(x: float, y: float, radius: float) -> Polygon:
    """A regular polygon that passes for a circle at symbol size."""
    sides = 12 if radius < 6.0 else 24
    step = 2.0 * math.pi / sides
    return tuple((x + radius * math.cos(step * k), y + radius * math.sin(step * k)) for k in range(sides))


def pump_triangle(x: float, y: float, radius: float, ux: float, uy: float) -> Polygon:
    """ISO 1219-1: the filled triangle of a hydraulic pump, on the rim, pointing out with the flow."""
    frame = Frame(x, y, ux, uy)
    return frame.polygon((radius, 0.0), (0.36 * radius, 0.42 * radius), (0.36 * radius, -0.42 * radius))


def arrow(tip: XY, direction: XY, size: float, half: float = 0.3) -> Polygon:
    """A filled arrowhead whose tip is at `tip`; slim, unless `half` its width is more of its size."""
    frame = Frame(tip[0], tip[1], *direction)
    return frame.polygon((0.0, 0.0), (-size, half * size), (-size, -half * size))


def level_mark(x: float, y: float, size: float) -> tuple[Polygon, tuple[Line, ...]]:
    """The mark of a free surface: a triangle standing on it, and shortening lines under it."""
    half = 0.58 * size
    triangle = ((x, y), (x - half, y - size), (x + half, y - size))
    lines = tuple(
        ((x - half * k, y + gap), (x + half * k, y + gap))
        for k, gap in ((0.8, 0.28 * size), (0.4, 0.56 * size))
    )
    return triangle, lines


def ground(left: float, right: float, y: float, spacing: float) -> list[Line]:
    """The line of the ground and the strokes under it."""
    lines: list[Line] = [((left, y), (right, y))]
    x = left + spacing
    while x <= right + 1e-6:
        lines.append(((x, y), (x - spacing, y + spacing)))
        x += spacing
    return lines
