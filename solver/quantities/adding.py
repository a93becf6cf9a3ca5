"""Figures that stand side by side as a sum: with as many decimals as it takes that they add up as shown."""

from __future__ import annotations

import math
from collections.abc import Sequence
from decimal import Decimal
from heapq import nsmallest

from solver.quantities.units import Kind, System, number, to_display, with_minus

MOST = 3
"""Decimals more than usual that are tried."""

NOTHING = 1e-6
"""Share of the largest of some figures: what they come to together is more than rounding where over it."""


def more_places(kind: Kind, system: System, *sums: tuple[float, ...]) -> int:
    """How many decimals more than usual figures need to add up as shown, each rounded from its own value.

    sums: each of figures that come to nothing together, those that are taken off below zero [SI unit of the
    kind]; one that comes to something is no sum. 0 where no decimals tried are enough.
    """
    true = [each for each in sums if abs(sum(each)) <= NOTHING * max(map(abs, each))]
    enough = (more for more in range(MOST + 1) if all(_adds_up(each, kind, system, more) for each in true))
    return next(enough, 0)


def _adds_up(figures: tuple[float, ...], kind: Kind, system: System, more: int) -> bool:
    """Whether the figures as shown come to nothing, as far as the one with the fewest decimals shows."""
    shown = [Decimal(number(each, kind, system, more)) for each in figures]
    coarsest = max(Decimal(1).scaleb(int(each.as_tuple().exponent)) for each in shown)
    return abs(sum(shown, Decimal(0))) < coarsest / 2


def places_of_sums(kind: Kind, system: System, least: int, *sums: tuple[float, ...]) -> int:
    """How many decimals figures need that all have as many, at the least so many, to add up as shown.

    sums: as of `more_places`. The least where no decimals tried are enough.
    """

    def add_up(places: int) -> bool:
        return all(not sum(as_shown(each, kind, system, places) for each in figures) for figures in sums)

    return next((places for places in range(least, least + MOST + 1) if add_up(places)), least)


def as_shown(si: float, kind: Kind, system: System, places: int = 2) -> Decimal:
    """A value [SI unit of the kind] in the shown unit, rounded to so many decimals, to be reckoned with."""
    return Decimal(f"{to_display(si, kind, system):.{places}f}")


def written(figure: Decimal) -> str:
    """A figure as `as_shown` has it, in writing; never a negative nothing."""
    return with_minus(str(figure if figure else abs(figure)))


def in_sum(figures: Sequence[float], whole: float, places: int = 2) -> list[float]:
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
