"""The air column as data: where each pressure lies, and the slices the line takes out of it. No Qt here.

Credits (flooded head, falling elements) stand on top of the surface, for they add to what can be spent;
everything that spends follows downwards from there in walking order, and ends at the port's pressure.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from solver.atmosphere import SEA_LEVEL
from solver.ledger import Entry, PumpLedger

BUDGET_PART = 0.72
"""Of the height, what the column above the floor takes when the rest is cut short."""

DEEPEST = 0.88
CUT_TOP, CUT_BOTTOM = 0.91, 0.95
"""Where the cut lies, as parts of the height."""


@dataclass(frozen=True, slots=True)
class Scale:
    """Absolute pressure [Pa] to device y. Between `high` and `low` the column is cut out and drawn short."""

    top: float  # device y of the highest pressure
    bottom: float  # device y of a perfect vacuum
    most: float  # pressure at the top [Pa]
    per_pascal: float
    cut: tuple[float, float] | None  # (high, low) pressures of the part left out

    def y(self, pressure: float) -> float:
        """The device y of a pressure; in the cut, somewhere between its edges."""
        if self.cut is None or pressure >= self.cut[0]:
            return self.top + (self.most - pressure) * self.per_pascal
        high, low = self.cut
        if pressure <= low:
            return self.bottom - pressure * self.per_pascal
        above, below = self.y(high), self.bottom - low * self.per_pascal
        return above + (below - above) * (high - pressure) / (high - low)

    def shows(self, pressure: float) -> bool:
        """True unless the pressure lies in the part left out or beyond the ends."""
        inside = self.cut is None or not self.cut[1] < pressure < self.cut[0]
        return inside and 0.0 <= pressure <= self.most


def scale(ledger: PumpLedger, top: float, bottom: float) -> Scale:
    """A scale that shows the budget large; what fills the pump is cut short where it would crowd it out."""
    height = bottom - top
    reached = ledger.surface + sum(max(-taken(entry), 0.0) for entry in ledger.entries)
    most = max(SEA_LEVEL, ledger.atmosphere, reached, ledger.floor) * 1.015
    lowest = min(ledger.floor, ledger.surface)
    per_pascal = BUDGET_PART * height / max(most - lowest, 1.0)
    deepest = max(min(ledger.inlet, lowest), 0.0)
    per_pascal = min(per_pascal, DEEPEST * height / max(most - deepest, 1.0))
    if per_pascal * most <= height * 1.05:
        return Scale(top, bottom, most, height / most, None)
    high = most - CUT_TOP * height / per_pascal
    return Scale(top, bottom, most, per_pascal, (high, (1.0 - CUT_BOTTOM) * height / per_pascal))


def taken(entry: Entry) -> float:
    """What an entry takes from the budget [Pa]; negative for a credit."""
    return entry.lift + entry.loss


@dataclass(frozen=True, slots=True)
class Slice:
    """One entry's part of the column, from `high` down to `low` [Pa absolute]."""

    key: str
    name: str
    share: float  # nan where shares mean nothing
    high: float
    low: float

    @property
    def credit(self) -> bool:
        return self.share < 0.0 or self.key.endswith("/flooded head")


def slices(ledger: PumpLedger) -> tuple[Slice, ...]:
    """Every entry as a slice: credits upwards from the surface, then what spends, downwards."""
    found = []
    pressure = ledger.surface
    for entry in ledger.entries:
        if taken(entry) < 0.0:
            found.append(_slice(entry, pressure - taken(entry), pressure))
            pressure -= taken(entry)
    for entry in ledger.entries:
        if taken(entry) >= 0.0:
            found.append(_slice(entry, pressure, pressure - taken(entry)))
            pressure -= taken(entry)
    return tuple(found)


def _slice(entry: Entry, high: float, low: float) -> Slice:
    name = entry.part if entry.kind in ("valve", "device") else f"{entry.part}, {entry.element}"
    return Slice(entry.key, name, entry.share, high, low)


def parts(piece: Slice, floor: float) -> tuple[tuple[float, float, bool], ...]:
    """(high, low, past the floor) of a slice, in two where the floor runs through it."""
    if piece.credit or piece.low >= floor - 1e-6:
        return ((piece.high, piece.low, False),)
    if piece.high <= floor + 1e-6:
        return ((piece.high, piece.low, True),)
    return (piece.high, floor, False), (floor, piece.low, True)


def whole(ledger: PumpLedger) -> bool:
    """True when shares of the budget mean something."""
    return ledger.budget > 0.0 and not math.isnan(ledger.budget)
