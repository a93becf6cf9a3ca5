"""Figures that stand side by side as a sum: rounded, or with as many decimals, that they add up as shown."""

from __future__ import annotations

import math
from collections.abc import Sequence
from decimal import Decimal
from heapq import nsmallest

from solver.quantities.units import Kind, System, from_display, to_display, with_minus

PLACES = 2
"""Decimals of a ledger's pressures, wherever one is shown, and of the heads that a pump is judged by."""

MOST = 3
"""Decimals more than the least that are tried in a working."""


def places_of(kind: Kind) -> int | None:
    """Decimals of what a ledger has of a kind, in a sentence; None of any other."""
    return PLACES if kind in (Kind.VACUUM, Kind.ABSOLUTE, Kind.HEAD) else None


def shown_value(si: float, kind: Kind, system: System) -> float:
    """A value [SI unit of the kind] as a ledger shows it, to be reckoned with: rounded in the shown unit."""
    return from_display(float(f"{to_display(si, kind, system):.{PLACES}f}"), kind, system)


def gained(before: float, after: float, kind: Kind, system: System) -> float:
    """What one value has over another, both as a ledger shows them [SI unit of the kind]."""
    return shown_value(after, kind, system) - shown_value(before, kind, system)


def places_of_sums(kind: Kind, system: System, least: int, *sums: tuple[float, ...]) -> int:
    """How many decimals figures need that all have as many, at the least so many, to add up as shown.

    sums: each of figures that come to nothing together, those that are taken off below zero [SI unit of the
    kind]. The least where no decimals tried are enough.
    """

    def add_up(places: int) -> bool:
        return all(not sum(as_shown(each, kind, system, places) for each in figures) for figures in sums)

    return next((places for places in range(least, least + MOST + 1) if add_up(places)), least)


def as_shown(si: float, kind: Kind, system: System, places: int = PLACES) -> Decimal:
    """A value [SI unit of the kind] in the shown unit, rounded to so many decimals, to be reckoned with."""
    return Decimal(f"{to_display(si, kind, system):.{places}f}")


def written(figure: Decimal) -> str:
    """A figure as `as_shown` has it, in writing; never a negative nothing."""
    return with_minus(str(figure if figure else abs(figure)))


def in_sum(figures: Sequence[float], whole: float, places: int = PLACES) -> list[float]:
    """Figures rounded so that they come to a whole that is rounded itself [the shown unit, all of them].

    Each is rounded from its own value; those nearest to being rounded the other way are, one after the other,
    until all add up. What is nothing stays so. Each by itself where the whole is no sum of theirs.
    """
    step = 10.0**-places
    shown = [round(each, places) for each in figures]
    left = whole - sum(shown)
    if not math.isfinite(left) or abs(sum(figures) - whole) > 2 * step:
        return shown
    missing, sign = round(abs(left) / step), math.copysign(1.0, left)
    there = [at for at, each in enumerate(figures) if each]
    order = nsmallest(missing, there, key=lambda at: sign * (shown[at] - figures[at])) if missing else []
    for turn in range(missing if order else 0):
        at = order[turn % len(order)]
        shown[at] = round(shown[at] + sign * step, places)
    return shown
