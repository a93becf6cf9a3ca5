"""A drawing in the size of a stamp: its tanks and its line in the colours of their shares, no figures."""

from __future__ import annotations

from PySide6.QtGui import QPainter

from sketch.drawing.glyphs import glyphs
from sketch.drawing.labels import Box
from sketch.drawing.line_painting import paint_line
from sketch.drawing.pencil import Pencil
from sketch.drawing.placer import Placer
from sketch.drawing.tanks import reservoirs
from sketch.drawing.view import XY, fit_closely
from sketch.look.colours import Theme
from solver.layout.parts import Layout, Level
from solver.ledger.solve import Solution

SMALLER = 0.55
"""Of symbols and strokes against those of a sheet."""


def paint_thumbnail(
    painter: QPainter, layout: Layout, solution: Solution | None, size: XY, theme: Theme, dot: float = 1.0
) -> None:
    """Paint a drawing in `size` device units from the painter's origin; grey without a solution."""
    dot *= SMALLER
    view = fit_closely(layout, *size, dot)
    pencil, placer = Pencil(painter, dot, Box(0.0, 0.0, *size)), Placer(*size, dot)
    pump = next(iter(solution.pumps), "") if solution is not None else ""
    reservoirs(pencil, layout, view, size, theme, Level.MINIMUM, (), placer)
    paint_line(pencil, layout, glyphs(layout, solution, view, pump), view, theme, "", (), ())
