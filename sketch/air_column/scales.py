"""The two scales of the air column: absolute pressure from a perfect vacuum, and vacuum from the air here."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from sketch.air_column.frame import XY, PaintedColumn
from solver.quantities import units
from solver.quantities.units import Kind, System

GAP = 34.0
"""Logical pixels at least from one figure to the next."""

ABSOLUTE, GAUGE = 6.0, 50.0
"""Logical pixels from the column to the axis of each scale."""


def paint_scales(column: PaintedColumn) -> None:
    """Both axes with their marks, figures and headings."""
    pencil, frame, dot, theme = column.pencil, column.frame, column.pencil.dot, column.theme
    air = column.ledger.atmosphere
    absolute, gauge = frame.x - ABSOLUTE * dot, frame.x - GAUGE * dot
    lines: list[tuple[XY, XY]] = [((absolute, frame.y), (absolute, frame.bottom))]
    lines.append(((gauge, column.y(air)), (gauge, frame.bottom)))
    for x, kind, name, origin, sign in (
        (absolute, Kind.ABSOLUTE, "abs.", 0.0, 1.0),
        (gauge, Kind.VACUUM, "vac.", air, -1.0),
    ):
        marks = partial(_marks, column, kind, origin, sign)
        for y, figure in pencil.known(("marks", kind, air, column.measure, column.system), (), marks):
            lines.append(((x - 4 * dot, y), (x, y)))
            pencil.text(x - 7 * dot, y, figure, theme.quiet, align=1.0)
        pencil.text(x, frame.y - 24 * dot, name, theme.quiet, align=1.0)
        # The name says which scale is absolute: the word in the unit would run into the other heading.
        unit = units.unit(kind, column.system).removesuffix(" abs")
        pencil.text(x, frame.y - 11 * dot, unit, theme.quiet, align=1.0)
    pencil.lines(lines, theme.construction)


def _marks(column: PaintedColumn, kind: Kind, origin: float, sign: float) -> list[tuple[float, str]]:
    """Where the marks of a scale are, with their figures."""
    step = _step(column, kind)
    places = _places(step, kind, column.system)
    return [
        (column.y(origin + sign * value), _figure(value, places, kind, column.system))
        for value in _ticks(column, step, origin, sign)
    ]


def _step(column: PaintedColumn, kind: Kind) -> float:
    """A round step of the shown unit [Pa]."""
    one = units.from_display(1.0, kind, column.system) - units.from_display(0.0, kind, column.system)
    wanted = GAP * column.pencil.dot / (column.measure.per_pascal * one)
    power = 10.0 ** math.floor(math.log10(wanted))
    return next(f * power for f in (1.0, 2.0, 5.0, 10.0) if f * power >= wanted * (1 - 1e-9)) * one


def _ticks(column: PaintedColumn, step: float, origin: float, sign: float) -> Iterator[float]:
    """Multiples of a step [Pa] on the pieces of the column that are drawn to scale."""
    last = math.inf
    for high, low in _shown(column):
        near, far = sorted(((high - origin) * sign, (low - origin) * sign))
        for k in range(max(math.ceil(near / step - 1e-9), 0), math.floor(far / step + 1e-9) + 1):
            y = column.y(origin + sign * k * step)
            if abs(y - last) > 11.0 * column.pencil.dot:
                yield k * step
                last = y


def _shown(column: PaintedColumn) -> Iterator[tuple[float, float]]:
    """The pieces of the column that are drawn to scale, from the top down: (high, low) [Pa]."""
    edges = [column.measure.most, *(edge for cut in column.measure.cuts for edge in cut), 0.0]
    yield from zip(edges[::2], edges[1::2], strict=True)


def _places(step: float, kind: Kind, system: System) -> int:
    """Decimals that tell the multiples of a step apart."""
    shown = units.to_display(step, kind, system)
    return max(0, -math.floor(math.log10(shown) + 1e-9))


def _figure(value: float, places: int, kind: Kind, system: System) -> str:
    return units.with_places(units.to_display(value, kind, system), places)
