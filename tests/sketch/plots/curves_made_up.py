"""Curves of no drawing, for tests of how they are painted."""

from __future__ import annotations

import numpy as np
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from sketch.plots.curves import BandRole, CurveBand, CurveLine, CurveMark, CurvesPicture, LineRole, Unjudged
from sketch.plots.curves_plot import CurvesPlot
from solver.quantities.units import Kind, System
from tests.sketch.shown import shown


def made_up(
    y_label: str,
    crossing: float = 5.0,
    between: tuple[tuple[float, float], ...] = (),
    gaps: tuple[Unjudged, ...] = (),
    end: float = 10.0,
) -> CurvesPicture:
    """A curve over 0 to 10 m that falls to its limit at `crossing`, and a case that ends at `end`."""
    xs = np.linspace(0.0, 10.0, 41)
    ys = crossing - xs
    cold = np.where(xs <= end, ys, np.nan)
    lines = (CurveLine("worst case", LineRole.WORST, xs, ys), CurveLine("cold", LineRole.CASE, xs, cold))
    band = CurveBand(BandRole.OVER, "over", xs, np.full(41, -1e9), np.zeros(41))
    mark = CurveMark(crossing, 0.0, f"{crossing} m")
    today = CurveMark(2.0, crossing - 2.0, "today")
    drawn = (lines, (band,), between, (mark,), today)
    return CurvesPicture(
        *drawn, "Port height of press, m", y_label, Kind.LENGTH, Kind.VACUUM, System.SI, (), gaps
    )


def shown_plot(qtbot: QtBot, wide: int, high: int) -> tuple[CurvesPlot, QWidget]:
    """A plot on the screen, and the widget round it, with which it is closed as it is in the window."""
    around = QWidget()
    plot = CurvesPlot(around)
    plot.resize(wide, high)
    shown(qtbot, around, wide, high)
    return plot, around
