"""Customary units in SI, and what an example reads off a ledger."""

from __future__ import annotations

import math

from solver.formulas.flow import GRAVITY
from solver.layout.parts import Layout
from solver.ledger.solve import PumpLedger, solve

FOOT, INCH, PSI, POUND = 0.3048, 0.0254, 6894.757293168, 0.45359237
GALLON = 231 * INCH**3
GPM = GALLON / 60
INCH_OF_MERCURY = 3386.38864
SLUG_PER_CUBIC_FOOT = POUND * GRAVITY / FOOT**4
POUND_PER_CUBIC_FOOT = POUND / FOOT**3


def area(bore: float) -> float:
    """Of a bore [m²]."""
    return math.pi / 4 * bore**2


def ledger(layout: Layout, level: str = "minimum") -> PumpLedger:
    """Of the only pump in the drawing, which is called "pump"."""
    return solve(layout, level).pumps["pump"]


def lost(ledger: PumpLedger, *parts: str) -> float:
    """What the named parts lose [Pa]; all that is lost on the way where none is named."""
    ours = [e for e in ledger.entries if e.kind not in ("port", "flooded head")]
    return sum(entry.loss for entry in ours if not parts or entry.part in parts)
