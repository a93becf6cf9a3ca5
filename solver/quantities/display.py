"""How SI values are written: in the unit of their kind in either display system, and in how many digits."""

from __future__ import annotations

import math
from decimal import Decimal
from functools import lru_cache

from solver.quantities.scales import DISPLAY, SCALES, Kind, System

MINUS = "\N{MINUS SIGN}"

SAME = 1e-9
"""Figures this near, as a share of themselves, are one."""


def unit(kind: Kind, system: System) -> str:
    """The unit in which a kind is shown; empty for a bare number."""
    return DISPLAY[kind][system].unit


def to_display(si: float, kind: Kind, system: System) -> float:
    """The value [shown unit] of an SI value [SI unit of the kind], not rounded."""
    return SCALES[kind][DISPLAY[kind][system].key].from_si(si)


def from_display(value: float, kind: Kind, system: System) -> float:
    """The SI value [SI unit of the kind] of a shown value [shown unit]."""
    return SCALES[kind][DISPLAY[kind][system].key].to_si(value)


@lru_cache(maxsize=1024)  # a margin, a limit or a level is written in many places, again and again
def number(si: float, kind: Kind, system: System, places: int | None = None) -> str:
    """Write an SI value [SI unit of the kind] in the shown unit, without it.

    places: its decimals; None for three digits.
    """
    shown = DISPLAY[kind][system]
    value = to_display(si, kind, system)
    if not math.isfinite(value):
        return "—"
    if places is not None:
        digits = f"{value:.{places}f}"
        return digits if float(digits) else digits.removeprefix("-")
    if value == 0.0:
        return f"{0.0:.{min(shown.places, 1)}f}"
    magnitude = int(f"{value:.2e}".partition("e")[2])
    if kind is Kind.NUMBER and magnitude < -4:
        return f"{value:.2e}"
    if magnitude > 2 and not shown.whole:
        return format(Decimal(f"{value:.2e}"), "f")
    digits = f"{value:.{min(shown.places, max(0, 2 - magnitude))}f}"
    return digits if float(digits) else digits.removeprefix("-")


def shown_beside(si: float, kind: Kind, system: System, *, above: bool, places: int | None = None) -> float:
    """The nearest figure as it is shown that is not below an SI value, or not above it [SI unit of the
    kind]; itself where it is no number. places: as of `number`."""
    text = number(si, kind, system, places)
    if not math.isfinite(si) or text == "—":
        return si
    value, shown, way = to_display(si, kind, system), float(text), 1.0 if above else -1.0
    if (shown - value) * way < -SAME * max(abs(value), 1.0):
        worth = 10.0 ** -len(text.partition(".")[2])
        while number(from_display(shown + way * worth, kind, system), kind, system, places) == text:
            worth *= 10.0
        shown = float(number(from_display(shown + way * worth, kind, system), kind, system, places))
    return from_display(shown, kind, system)


def show(si: float, kind: Kind, system: System, places: int | None = None) -> str:
    """Write an SI value [SI unit of the kind] with its unit, as "4.9 inHg"; `quantity` reads it back."""
    return f"{number(si, kind, system, places)} {unit(kind, system)}".rstrip()


def typeset(si: float, kind: Kind, system: System, places: int | None = None) -> str:
    """Write an SI value [SI unit of the kind] as a sentence does: with a minus sign, not a hyphen."""
    return with_minus(show(si, kind, system, places))


def fixed(si: float, kind: Kind, system: System, places: int = 2) -> str:
    """Write an SI value [SI unit of the kind] in the shown unit, without it, with so many decimals."""
    return with_places(to_display(si, kind, system), places)


def rounded(value: float, places: int) -> str:
    """Write a plain number with three significant digits, never more than `places` decimals."""
    if not math.isfinite(value):
        return "—"
    value = float(f"{value:.3g}")
    size = math.floor(math.log10(abs(value))) if value else 0
    return with_places(value, max(0, min(places, 2 - size)))


def with_places(value: float, places: int) -> str:
    """Write a plain number with so many decimals; never a negative nothing."""
    text = f"{value:.{places}f}"
    return with_minus(text) if float(text) else text.removeprefix("-")


def with_minus(text: str) -> str:
    """A text of figures with a minus sign for every hyphen."""
    return text.replace("-", MINUS)
