"""A plot on paper: its axes with round figures, and where a value lies."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from sketch.drawing.labels import Box
from sketch.drawing.pencil import Pencil
from sketch.look.colours import Theme
from solver.quantities.units import MINUS

LEFT, RIGHT, TOP, FOOT = 48.0, 12.0, 20.0, 34.0
"""Logical pixels: what axes and heading take."""

Ends = tuple[float, float]
"""The least and the most that an axis shows."""

STEPS = (1.0, 2.0, 5.0, 10.0)
MOST_TICKS = 6


@dataclass(frozen=True, slots=True)
class Plot:
    """A plot's place on paper, and the values at its edges."""

    box: Box
    left: float
    right: float
    low: float
    high: float

    @classmethod
    def within(
        cls,
        pencil: Pencil,
        box: Box,
        across: tuple[float, float],
        up: tuple[float, float],
        right: float = RIGHT,
    ) -> Plot:
        """The plot in a box that holds its axes and a heading too; `right` is left free beside it."""
        dot = pencil.dot
        inner = Box(
            box.x + LEFT * dot,
            box.y + TOP * dot,
            box.width - (LEFT + right) * dot,
            box.height - (TOP + FOOT) * dot,
        )
        first, last = across
        return cls(inner, first, last if last > first else first + 1.0, *up)

    def at(self, x: float, y: float) -> tuple[float, float]:
        """Where two values lie, in device units."""
        return (
            self.box.x + (x - self.left) / (self.right - self.left) * self.box.width,
            self.box.bottom - (y - self.low) / (self.high - self.low) * self.box.height,
        )


def ticks(low: float, high: float, most: int) -> list[float]:
    """Round values from low to high, about so many."""
    if not high > low:
        return [low]
    rough = (high - low) / most
    ten = 10.0 ** math.floor(math.log10(rough))
    step = next(each * ten for each in STEPS if each * ten >= rough * (1 - 1e-9))
    first = math.ceil(low / step - 1e-9)
    return [k * step for k in range(first, math.floor(high / step + 1e-9) + 1)]


def _figure(value: float, values: Sequence[float]) -> str:
    step = values[1] - values[0] if len(values) > 1 else 1.0
    digits = max(0, -math.floor(math.log10(step) + 1e-9)) if step > 0 else 0
    text = f"{abs(value):.{digits}f}"
    return f"{MINUS}{text}" if value < 0 and float(text) else text


def paint_axes(pencil: Pencil, theme: Theme, plot: Plot, label: str, *, least: float = -math.inf) -> None:
    """Frame, light lines at round figures, and under it what the axes are.

    least: under which there is nothing upwards to be read, though the plot has room there.
    """
    dot, box = pencil.dot, plot.box
    pencil.box(box, None, theme.construction)
    up = ticks(max(plot.low, least), plot.high, MOST_TICKS)
    for value in up:
        _, y = plot.at(plot.left, value)
        pencil.lines([((box.x, y), (box.right, y))], theme.grid, 0.8)
        pencil.text(box.x - 4 * dot, y, _figure(value, up), theme.quiet, align=1.0)
    along = ticks(plot.left, plot.right, MOST_TICKS)
    for value in along:
        x, _ = plot.at(value, plot.low)
        pencil.lines([((x, box.bottom), (x, box.bottom + 3 * dot))], theme.construction)
        pencil.text(x, box.bottom + 10 * dot, _figure(value, along), theme.quiet, align=0.5)
    pencil.text(box.right, box.bottom + 24 * dot, label, theme.quiet, align=1.0)
