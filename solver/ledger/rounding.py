"""A ledger's figures as its tables show them: rounded together, so that they add up."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from functools import cached_property
from itertools import accumulate

from solver.ledger.limit import BudgetLine
from solver.ledger.solve import Entry, PumpLedger
from solver.quantities.adding import in_sum
from solver.quantities.units import Kind, System, to_display, with_places

PLACES = 2
"""Decimals of a ledger's pressures."""

MOST = 2.5 * 10.0**-PLACES
"""What a figure that takes what rounding leaves may differ from its own value; more is no rounding."""


class RoundedLedger:
    """The figures of a pump's ledger [shown unit of a vacuum].

    Budget, floor, margin and lift are each rounded from their own value, as they are quoted elsewhere. What
    is at the fluid surface, spent, lost and left at the port takes what rounding leaves, and so do the steps
    and entries of each sum that are nearest to it. All views of a ledger show these.
    """

    def __init__(self, ledger: PumpLedger, system: System) -> None:
        self._ledger, self._system = ledger, system
        self.budget, self.floor = self.own(ledger.budget), self.own(ledger.floor)
        self.margin = self.own(ledger.margin)
        self.lift = self.own(sum(entry.lift for entry in ledger.entries))
        self.surface = self._taking(self.budget + self.floor, ledger.surface)
        self.spent = self._taking(self.budget - self.margin, ledger.spent)
        self.loss = self._taking(self.spent - self.lift, sum(entry.loss for entry in ledger.entries))
        self.inlet = self._taking(self.floor + self.margin, ledger.inlet)

    def own(self, pressure: float) -> float:
        """A pressure [Pa] rounded from its own value."""
        return round(to_display(pressure, Kind.VACUUM, self._system), PLACES)

    def _taking(self, sum_of_others: float, pressure: float) -> float:
        """A figure that takes what rounding leaves of the sum it stands in [Pa for its own value]."""
        own = self.own(pressure)
        return round(sum_of_others, PLACES) if abs(sum_of_others - own) <= MOST else own

    def entry(self, entry: Entry) -> tuple[float, float, float, float]:
        """Lift, loss, both together, and the pressure after an entry; one beside the walk is in no sum."""
        lift, loss = self._entries.get(entry.key) or (self.own(entry.lift), self.own(entry.loss))
        pressure = self.inlet if entry.pressure == self._ledger.inlet else self.own(entry.pressure)
        return lift, loss, round(lift + loss, PLACES), pressure

    @cached_property
    def _entries(self) -> Mapping[str, tuple[float, float]]:
        entries = self._ledger.entries
        lifts = self._in_sum((entry.lift for entry in entries), self.lift)
        losses = self._in_sum((entry.loss for entry in entries), self.loss)
        return {each.key: (lift, loss) for each, lift, loss in zip(entries, lifts, losses, strict=True)}

    @cached_property
    def surface_steps(self) -> list[tuple[float, float]]:
        """What each step to the pressure on the fluid surface adds, and the sum so far."""
        return self._steps(self._ledger.surface_lines, self.surface, 1.0)

    @cached_property
    def floor_steps(self) -> list[tuple[float, float]]:
        """What each step to the floor adds, and the sum so far."""
        return self._steps(self._ledger.floor_lines, self.floor, -1.0)

    def _steps(self, lines: Iterable[BudgetLine], whole: float, sign: float) -> list[tuple[float, float]]:
        values = self._in_sum((sign * line.value for line in lines), whole)
        return [
            (value, round(total, PLACES)) for value, total in zip(values, accumulate(values), strict=True)
        ]

    def _in_sum(self, pressures: Iterable[float], whole: float) -> list[float]:
        one = to_display(1.0, Kind.VACUUM, self._system)  # the scales of pressure have no offset
        return in_sum([pressure * one for pressure in pressures], whole, PLACES)


def in_writing(figure: float) -> str:
    """A figure of a rounded ledger in writing."""
    return with_places(figure, PLACES)


def in_decimals(figure: float) -> Decimal:
    """A figure of a rounded ledger, or of several together, to be reckoned with."""
    return Decimal(f"{figure:.{PLACES}f}")
