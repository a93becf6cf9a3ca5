"""The two scales of the air column: absolute pressure from a perfect vacuum, and vacuum from the air here."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from sketch.air_column.frame import XY, Board
from solver.quantities import units
from solver.quantities.units import Kind, System

GAP = 34.0
"""Logical pixels at least from one figure to the next."""

ABSOLUTE, GAUGE = 6.0, 50.0
"""Logical pixels from the column to the axis of each scale."""


def paint_scales(board: Board) -> None:
    """Both axes with their marks, figures and headings."""
    pencil, frame, dot, theme = board.pencil, board.frame, board.pencil.dot, board.theme
    air = board.ledger.atmosphere
    absolute, gauge = frame.x - ABSOLUTE * dot, frame.x - GAUGE * dot
    lines: list[tuple[XY, XY]] = [((absolute, frame.y), (absolute, frame.bottom))]
    lines.append(((gauge, board.y(air)), (gauge, frame.bottom)))
    for x, kind, name, origin, sign in (
        (absolute, Kind.ABSOLUTE, "abs.", 0.0, 1.0),
        (gauge, Kind.VACUUM, "vac.", air, -1.0),
    ):
        marks = partial(_marks, board, kind, origin, sign)
        for y, figure in pencil.known(("marks", kind, air, board.measure, board.system), (), marks):
            lines.append(((x - 4 * dot, y), (x, y)))
            pencil.text(x - 7 * dot, y, figure, theme.quiet, align=1.0)
        pencil.text(x, frame.y - 24 * dot, name, theme.quiet, align=1.0)
        # The name says which scale is absolute: the word in the unit would run into the other heading.
        unit = units.unit(kind, board.system).removesuffix(" abs")
        pencil.text(x, frame.y - 11 * dot, unit, theme.quiet, align=1.0)
    pencil.lines(lines, theme.construction)


def _marks(board: Board, kind: Kind, origin: float, sign: float) -> list[tuple[float, str]]:
    """Where the marks of a scale are, with their figures."""
    step = _step(board, kind)
    places = _places(step, kind, board.system)
    return [
        (board.y(origin + sign * value), _figure(value, places, kind, board.system))
        for value in _ticks(board, step, origin, sign)
    ]


def _step(board: Board, kind: Kind) -> float:
    """A round step of the shown unit [Pa]."""
    one = units.from_display(1.0, kind, board.system) - units.from_display(0.0, kind, board.system)
    wanted = GAP * board.pencil.dot / (board.measure.per_pascal * one)
    power = 10.0 ** math.floor(math.log10(wanted))
    return next(f * power for f in (1.0, 2.0, 5.0, 10.0) if f * power >= wanted * (1 - 1e-9)) * one


def _ticks(board: Board, step: float, origin: float, sign: float) -> Iterator[float]:
    """Multiples of a step [Pa] on the pieces of the column that are drawn to scale."""
    last = math.inf
    for high, low in _shown(board):
        near, far = sorted(((high - origin) * sign, (low - origin) * sign))
        for k in range(max(math.ceil(near / step - 1e-9), 0), math.floor(far / step + 1e-9) + 1):
            y = board.y(origin + sign * k * step)
            if abs(y - last) > 11.0 * board.pencil.dot:
                yield k * step
                last = y


def _shown(board: Board) -> Iterator[tuple[float, float]]:
    """The pieces of the column that are drawn to scale, from the top down: (high, low) [Pa]."""
    edges = [board.measure.most, *(edge for cut in board.measure.cuts for edge in cut), 0.0]
    yield from zip(edges[::2], edges[1::2], strict=True)


def _places(step: float, kind: Kind, system: System) -> int:
    """Decimals that tell the multiples of a step apart."""
    shown = units.to_display(step, kind, system)
    return max(0, -math.floor(math.log10(shown) + 1e-9))


def _figure(value: float, places: int, kind: Kind, system: System) -> str:
    return units.with_places(units.to_display(value, kind, system), places)
