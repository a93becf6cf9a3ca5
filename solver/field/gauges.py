"""From what a gauge shows to the vacuum at its tap: its tube, its height, its class and its zero."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from solver.formulas.flow import GRAVITY
from solver.quantities.units import Kind, System, typeset


class Tube(StrEnum):
    """What is in the tube between a tap and its gauge."""

    FULL = "full"
    EMPTY = "empty"
    UNKNOWN = "not known"


TYPICAL_CLASS = 0.016
"""Error of a plain gauge as a share of its range, EN 837-1 class 1.6."""

TYPICAL_RANGE = 101_325.0
"""Range of a vacuum gauge whose range is not noted: the whole atmosphere [Pa]."""

CLASSES = (4.0, 2.5, 1.6, 1.0, 0.6, 0.25, 0.1)
"""Accuracy classes of EN 837-1, the coarsest first: largest error in percent of the range."""

REPEATS = 0.25
"""Share of its class within which a gauge shows the same again; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Gauge:
    """One gauge as it is fitted. What is not noted widens the band of its readings."""

    name: str = ""
    over_tap: float = 0.0  # height of the gauge over its tap [m]
    tube: Tube = Tube.UNKNOWN
    accuracy: float | None = None  # share of the range; None: not noted
    range: float | None = None  # [Pa]; None: not noted
    zero: float | None = None  # what it shows when vented [Pa of vacuum]; None: not looked

    @property
    def error(self) -> float:
        """Largest error of its class [Pa]."""
        share = TYPICAL_CLASS if self.accuracy is None else self.accuracy
        return share * (TYPICAL_RANGE if self.range is None else self.range)

    @property
    def bias(self) -> float:
        """Standard deviation of what it shows too much, alike in all its readings [Pa].

        A zero that was looked at when vented takes the shift out and leaves half of the class.
        """
        sigma = self.error / math.sqrt(3.0)
        return sigma if self.zero is None else sigma / 2.0

    @property
    def scatter(self) -> float:
        """Standard deviation from reading to reading [Pa]."""
        return REPEATS * self.error


@dataclass(frozen=True, slots=True)
class Band:
    """A vacuum at a tap [Pa], negative above the atmosphere; an open end where only a bound is known."""

    low: float
    high: float


def at_tap(shown: float, high: float, gauge: Gauge, density: float) -> Band:
    """The vacuum at a tap, of what a gauge showed from `shown` to `high` [Pa of vacuum].

    density: of the fluid in the tube [kg/m³]. A gauge above its tap shows more vacuum than there is at the
    tap, by the fluid in its tube; where the tube is not known, the vacuum lies between that and the reading.
    """
    zero = 0.0 if gauge.zero is None else gauge.zero
    column = fluid_column(gauge, density)
    low, top = shown - zero, high - zero
    match gauge.tube:
        case Tube.FULL:
            return Band(low - column, top - column)
        case Tube.EMPTY:
            return Band(low, top)
        case Tube.UNKNOWN:
            return Band(low - max(column, 0.0), top - min(column, 0.0))


def fluid_column(gauge: Gauge, density: float) -> float:
    """What a tube full of fluid adds to a gauge [Pa of vacuum], below zero where it hangs under its tap.

    density: of that fluid [kg/m³].
    """
    return density * GRAVITY * gauge.over_tap


COARSE = 0.25
"""Share of what is allowed, above which a gauge's error is too large; common practice, no source."""


def too_coarse(gauge: Gauge, allowed: float, system: System) -> str:
    """That a gauge's error is too large for what is allowed [Pa of vacuum], and which would do; "" where not.

    Where nothing is allowed below the atmosphere no class of such a gauge would do, and nothing is said.
    """
    most = COARSE * allowed
    if allowed <= 0.0 or gauge.error <= most:
        return ""
    span, share = gauge.range or TYPICAL_RANGE, gauge.accuracy or TYPICAL_CLASS
    error, limit, whole, smaller = (
        typeset(each, Kind.VACUUM, system) for each in (gauge.error, allowed, span, most / share)
    )
    finer = next((each for each in CLASSES if each / 100.0 * span <= most), None)
    classes = f"class {finer:g} of {whole}, or " if finer is not None else ""
    of_range = f"class {share * 100:g} of no more than {smaller}"
    return (
        f"The gauge is too coarse here: it may be off by {error}, more than a quarter of the "
        f"{limit} allowed. Take {classes}{of_range}."
    )
