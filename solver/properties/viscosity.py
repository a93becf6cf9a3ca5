"""Viscosity over temperature: through points, or by one point and a viscosity index."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache
from itertools import pairwise

from solver.formulas import fluid as formulas
from solver.formulas.record import UNRECORDED, Calculator
from solver.properties.families import ZERO, Points
from solver.quantities import columns as figures
from solver.quantities.units import Kind
from solver.quantities.wording import Quoted, QuotingError

CENTISTOKE = 1e-6
"""1 mm²/s [m²/s]."""

THINNEST, THICKEST = 0.21, 2e7
"""Viscosities that ASTM D341 holds for [mm²/s]."""

AT_40, AT_100 = ZERO + 40.0, ZERO + 100.0
"""Where a viscosity index is read [K]."""


class FluidError(QuotingError):
    """A fluid, or a temperature, that the data do not hold."""

    part = "fluid"


def at_temperature(T: float) -> Quoted:
    """A temperature [K] as an error quotes it."""
    return figures.first(T), Kind.TEMPERATURE


ViscosityLine = Callable[..., float]
"""Viscosity [m²/s] over temperature [K], and on request a calculator to work it out with."""


def walther_line(points: Points) -> ViscosityLine:
    """Viscosity [m²/s] over temperature [K] through two or more points of ((T [K], ν [mm²/s]), ...).

    Straight in log log Z over log T between neighbours, and on beyond the ends.
    Raises FluidError for a viscosity that does not fall with temperature, or lies outside the standard; so
    does the function, where its line leaves the standard's range.
    Source: ASTM D341, with its terms below 2 mm²/s.
    """
    if any(not THINNEST <= value <= THICKEST for _, value in points):
        raise FluidError(f"ASTM D341 holds from {THINNEST:g} to {THICKEST:g} mm²/s")
    pieces = [_straight(first, second, UNRECORDED) for first, second in pairwise(points)]
    heights, slopes = zip(*pieces, strict=True)
    if any(slope <= 0 for slope in slopes):
        raise FluidError("viscosity must fall as temperature rises")
    ends = [T for T, _ in points[1:-1]]

    def at(T: float, calc: Calculator = UNRECORDED) -> float:
        i = figures.bisect(ends, T)
        if calc.records:
            A, B = _straight(points[i], points[i + 1], calc)
        else:
            A, B = figures.pick(heights, i), figures.pick(slopes, i)
        value = calc.work(formulas.viscosity_from, calc.work(formulas.walther_line, A, B, T))
        if not THINNEST <= value <= THICKEST:
            raise FluidError(
                f"viscosity at {{tried}} is outside ASTM D341's range: {value:.3g} mm²/s",
                end="viscosity leaves ASTM D341's range",
                tried=at_temperature(T),
            )
        return value * CENTISTOKE

    return at


def _straight(
    first: tuple[float, float], second: tuple[float, float], calc: Calculator
) -> tuple[float, float]:
    """Height and slope of the viscosity line through two points (T [K], ν [mm²/s])."""
    heights = []
    for i, (T, viscosity) in enumerate((first, second), 1):
        point = formulas.viscosity_point_formulas(i)
        calc.given(point.T, T)
        number = calc.work(point.number, calc.given(point.nu, viscosity))
        heights.append(calc.work(point.height, number))
    slope = calc.work(formulas.line_slope, *heights, first[0], second[0])
    return calc.work(formulas.line_height, heights[0], slope, first[0]), slope


@lru_cache(maxsize=256)
def index_line(T: float, viscosity: float, index: float, source: str = "as typed") -> ViscosityLine:
    """Viscosity [m²/s] over temperature [K] of the oil of that viscosity index through one point.

    T: [K]; viscosity: there [mm²/s]; source: of the two figures.
    Raises FluidError where no oil of that index has it.
    Source: ASTM D2270 for the second point, found by bisection; ASTM D341 between.
    """
    at_100 = _second_point(T, viscosity, index)
    at_40 = formulas.at_40(at_100, index)
    line = walther_line(((AT_40, at_40), (AT_100, at_100)))
    sought = "found so that the index and the given viscosity come out below"

    def at(now: float, calc: Calculator = UNRECORDED) -> float:
        if calc.records:
            calc.given(formulas.VI, index, source)
            calc.given(formulas.U, at_40, source if T == AT_40 else sought)
            calc.given(
                formulas.Y, at_100, "found so that the index comes out below" if T == AT_40 else sought
            )
            formulas.viscosity_index(at_40, at_100, calc)
        return line(now, calc)

    return at


def _second_point(T: float, viscosity: float, index: float) -> float:
    """Viscosity at 100 °C [mm²/s] of the oil of that index through one point. Parameters as `index_line`."""

    def line(at_100: float) -> ViscosityLine:
        return walther_line(((AT_40, formulas.at_40(at_100, index)), (AT_100, at_100)))

    low, high = 2.0, 500.0
    try:
        if not line(low)(T) <= viscosity * CENTISTOKE <= line(high)(T):
            raise FluidError("")
        while high / low > 1.0 + 1e-13:
            middle = math.sqrt(low * high)
            low, high = (middle, high) if line(middle)(T) < viscosity * CENTISTOKE else (low, middle)
    except FluidError:
        raise FluidError(
            f"no viscosity index {index:g} is defined for {viscosity:g} mm²/s at {{given}}: "
            "ASTM D2270 needs 2 mm²/s or more at 100 °C",
            given=at_temperature(T),
        ) from None
    return high
