"""The air column's place on the panel, and everything its painters share."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from sketch.air_column.slices import FLOOR_NAME, Scale, entry_total
from sketch.drawing.labels import Box
from sketch.drawing.pencil import Pencil
from sketch.look.colours import Theme
from solver.ledger.solve import PumpLedger
from solver.quantities.units import System

XY = tuple[float, float]

SCALES = 88.0
COLUMN = 52.0
HEAD = 34.0
LANE = 16.0
"""Logical pixels: the two scales, the column's width, the scales' headings, the lane of what is given."""


@dataclass(frozen=True, slots=True)
class PaintedColumn:
    """One column being painted."""

    pencil: Pencil
    area: Box
    frame: Box  # of the column itself
    measure: Scale
    ledger: PumpLedger
    theme: Theme
    system: System
    foot: float  # of the lane in which stands what is given, beside what it pays for [Pa]; inf without one
    floor_name: str = FLOOR_NAME
    known: dict[float, float] = field(default_factory=dict)  # heights asked for before

    def y(self, pressure: float) -> float:
        """The device y of a pressure [Pa]."""
        y = self.known.get(pressure)
        if y is None:
            y = self.known[pressure] = self.measure.y(pressure)
        return y

    def between(self, high: float, low: float) -> Box:
        """The column's whole width between two pressures [Pa]."""
        top, bottom = self.y(high), self.y(low)
        return Box(self.frame.x, top, self.frame.width, bottom - top if bottom > top else 0.0)

    def credit_lane(self, high: float, low: float) -> Box:
        """The credit_lane of what is given, between two pressures [Pa]."""
        x, y, _, height = self.between(high, low)
        return Box(x, y, LANE * self.pencil.dot, height)

    def right_of_lane(self, high: float, low: float) -> Box:
        """What the lane leaves of the column."""
        off = LANE * self.pencil.dot
        box = self.between(high, low)
        return Box(box.x + off, box.y, box.width - off, box.height)


def frame_of(area: Box, dot: float, used: float) -> Box:
    """The column itself, under the verdict and beside the scales."""
    top = area.y + used + HEAD * dot
    width = min(COLUMN * dot, max(area.width - SCALES * dot, 40 * dot) * 0.4)
    return Box(area.x + SCALES * dot, top, width, max(area.bottom - top - 16 * dot, 40 * dot))


def foot_of_lane(ledger: PumpLedger) -> float:
    """Where the lane of what is given ends [Pa]; infinite where neither an entry nor the reservoir gives."""
    if ledger.surface > ledger.atmosphere or any(entry_total(entry) < 0.0 for entry in ledger.entries):
        return min(ledger.surface, ledger.atmosphere)
    return math.inf


def corners(box: Box) -> tuple[XY, XY, XY, XY]:
    """The corners of a box, going round."""
    return (box.x, box.y), (box.right, box.y), (box.right, box.bottom), (box.x, box.bottom)
