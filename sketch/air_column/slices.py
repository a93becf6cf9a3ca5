"""The air column as data: where each pressure lies, and the slices the line takes out of it. No Qt here.

Credits (flooded head, falling elements) stand on top of the surface, for they add to what can be spent;
everything that spends follows downwards from there in walking order, and ends at the port's pressure.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from solver.ledger.path import HeadEntryKind
from solver.ledger.solve import Entry, PumpLedger
from solver.network.rows import RowKind
from solver.properties.atmosphere import SEA_LEVEL

FLOOR_NAME = "floor"
"""Of the least inlet pressure, where a window explains the word under the pointer."""


@dataclass(frozen=True, slots=True)
class _Room:
    """What the parts of a column that are no budget may take of its height, in device units."""

    hollow: float  # the air that is not here, once it is cut short
    most_hollow: float  # and before it is
    filling: float  # what fills the pump, at least
    deepest: float  # below the port, however far past the floor it is
    cut: float  # from the foot up to the top of the break
    stub: float  # and to its bottom


def _room(height: float, dot: float) -> _Room:
    """Room for the notes, in logical pixels; a share of the height where that is low."""
    return _Room(
        hollow=max(0.08 * height, min(46.0 * dot, 0.18 * height)),
        most_hollow=0.18 * height,
        filling=max(0.16 * height, min(66.0 * dot, 0.28 * height)),
        deepest=min(46.0 * dot, 0.14 * height),
        cut=min(34.0 * dot, 0.09 * height),
        stub=min(18.0 * dot, 0.05 * height),
    )


@dataclass(frozen=True, slots=True)
class Scale:
    """Absolute pressure [Pa] to device y, by straight pieces of one slope with short ones between.

    `knots` are (pressure, y), from the top down; `cuts` the ranges of pressure drawn short, (high, low).
    """

    knots: tuple[tuple[float, float], ...]
    per_pascal: float
    cuts: tuple[tuple[float, float], ...]

    @property
    def most(self) -> float:
        """The pressure at the top [Pa]."""
        return self.knots[0][0]

    @property
    def steepest(self) -> float:
        """The most that a pascal takes up anywhere, in device units."""
        return max((y - top) / (high - low) for (high, top), (low, y) in pairwise(self.knots))

    def y(self, pressure: float) -> float:
        """The device y of a pressure; in a cut, somewhere between its edges; beyond the ends, at the end."""
        pressure = min(max(pressure, 0.0), self.most)
        for (high, top), (low, bottom) in pairwise(self.knots):
            if pressure >= low:
                return top + (bottom - top) * (high - pressure) / (high - low)
        return self.knots[-1][1]

    def shows(self, pressure: float) -> bool:
        """True unless the pressure lies in a part left out or beyond the ends."""
        return 0.0 <= pressure <= self.most and not any(low < pressure < high for high, low in self.cuts)


def scale(ledger: PumpLedger, top: float, bottom: float, dot: float = 1.0) -> Scale:
    """A scale that shows the budget large.

    What fills the pump is cut short where it would crowd the budget out, and so is the air that is not here.
    """
    height = bottom - top
    room = _room(height, dot)
    head = max(ledger.atmosphere, surface_with_credits(ledger), ledger.floor) * 1.004
    most = max(SEA_LEVEL * 1.004, head)
    lowest = min(ledger.floor, ledger.surface, ledger.atmosphere)
    deepest = max(min(ledger.inlet, lowest), 0.0)

    def slope(highest: float, used: float) -> float:
        """Device units a pascal, from `highest` down, with `used` taken off the top."""
        return min(
            (height - room.filling - used) / max(highest - lowest, 1.0),
            (height - room.deepest - used) / max(highest - deepest, 1.0),
        )

    per_pascal = slope(most, 0.0)
    hollow = (most - head) * per_pascal
    knots: list[tuple[float, float]] = [(most, top)]
    cuts: list[tuple[float, float]] = []
    if hollow > room.most_hollow:
        hollow = room.hollow
        per_pascal = slope(head, hollow)
        band, gap = 0.3 * hollow / per_pascal, 0.3 * hollow
        cuts.append((most - band, head + band))
        knots += [(most - band, top + gap), (head + band, top + hollow - gap)]
    if head < most:
        knots.append((head, top + hollow))
    return _lower_part(knots, cuts, per_pascal, top, bottom, room)


def surface_with_credits(ledger: PumpLedger) -> float:
    """The top of what there is to spend, credits and all [Pa]."""
    totals = [entry.lift + entry.loss for entry in ledger.entries]
    return ledger.surface + sum([-total if total < 0.0 else 0.0 for total in totals])


def _lower_part(
    knots: list[tuple[float, float]],
    cuts: list[tuple[float, float]],
    per_pascal: float,
    top: float,
    bottom: float,
    room: _Room,
) -> Scale:
    head, y = knots[-1]
    if y + head * per_pascal <= bottom + 0.05 * (bottom - top):
        stretched = (bottom - y) / head
        return Scale((*knots, (0.0, bottom)), stretched, tuple(cuts))
    high = head - (bottom - room.cut - y) / per_pascal
    low = room.stub / per_pascal
    knots += [(high, bottom - room.cut), (low, bottom - room.stub), (0.0, bottom)]
    return Scale(tuple(knots), per_pascal, (*cuts, (high, low)))


def entry_total(entry: Entry) -> float:
    """What an entry takes from the budget [Pa]; negative for a credit."""
    return entry.lift + entry.loss


class Slice(NamedTuple):
    """One entry's part of the column, from `high` down to `low` [Pa absolute]."""

    entry: Entry
    share: float | None  # None where shares mean nothing
    high: float
    low: float
    credit: bool = False  # it gives

    @property
    def key(self) -> str:
        """The key of its entry."""
        return self.entry.key

    @property
    def name(self) -> str:
        """What is written beside it."""
        entry = self.entry
        if entry.kind in (RowKind.VALVE, RowKind.DEVICE):
            return entry.part
        if entry.kind == HeadEntryKind.FLOODED:
            return entry.element
        return f"{entry.part}, {'velocity head' if entry.kind == HeadEntryKind.PORT else entry.element}"


def part_of(ledger: PumpLedger | None, key: str) -> str:
    """The part that the entry of a key belongs to; "" for what is no entry."""
    entries = () if ledger is None else (*ledger.entries, *ledger.parallel_entries)
    return next((entry.part for entry in entries if entry.key == key), "")


def slices(ledger: PumpLedger) -> tuple[Slice, ...]:
    """Every entry as a slice: credits upwards from the surface, then what spends, downwards."""
    pieces, taking = list[Slice](), list[tuple[Entry, float]]()
    pressure = ledger.surface
    for entry in ledger.entries:
        total = entry_total(entry)
        if total < 0.0:
            pieces.append(_slice(entry, pressure - total, pressure))
            pressure -= total
        elif total >= 0.0:
            taking.append((entry, total))
    for entry, total in taking:
        pieces.append(_slice(entry, pressure, pressure - total))
        pressure -= total
    return tuple(pieces)


def _slice(entry: Entry, high: float, low: float) -> Slice:
    share = entry.share
    gives = (share is not None and share < 0.0) or entry.kind == HeadEntryKind.FLOODED
    return Slice(entry, share, high, low, gives)


def parts(piece: Slice, floor: float) -> tuple[tuple[float, float, bool], ...]:
    """(high, low, past the floor) of a slice, in two where the floor runs through it."""
    if piece.credit or piece.low >= floor - 1e-6:
        return ((piece.high, piece.low, False),)
    if piece.high <= floor + 1e-6:
        return ((piece.high, piece.low, True),)
    return (piece.high, floor, False), (floor, piece.low, True)


def whole(ledger: PumpLedger) -> bool:
    """True when shares of the budget mean something."""
    return ledger.budget > 0.0
