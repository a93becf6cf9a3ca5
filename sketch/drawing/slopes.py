"""How a straight slopes, in words."""

from __future__ import annotations

import math

from sketch.drawing.view import XY
from solver.geometry.squaring import SQUARE

STEEP = 2.5
"""Across over up, below which a slope is said in degrees."""


def slope_text(a: XY, b: XY) -> str:
    """How a straight slopes from one point to the other [m], in words; "" where it is square."""
    across, up = abs(b[0] - a[0]), b[1] - a[1]
    if across <= SQUARE or abs(up) <= SQUARE:
        return ""
    verb, ratio = "rises" if up > 0 else "falls", across / abs(up)
    if ratio >= STEEP:
        return f"{verb} 1:{ratio:.0f}"
    return f"{verb} {math.degrees(math.atan2(abs(up), across)):.0f}\N{DEGREE SIGN}"
