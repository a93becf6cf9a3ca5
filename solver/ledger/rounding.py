"""A ledger's figures as its tables show them: rounded together, so that they add up."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from functools import cached_property
from itertools import accumulate
from typing import NamedTuple

from solver.ledger.limit import BudgetLine
from solver.ledger.solve import Balance, Entry, PumpLedger
from solver.quantities.adding import PLACES, in_sum, shown_value
from solver.quantities.units import Kind, System, to_display, with_places

MOST = 2.5 * 10.0**-PLACES
"""What a figure that takes what rounding leaves may differ from its own value; more is no rounding."""


ALIKE = 1e-3
"""Two pressures that differ by less are one, added up in another order [Pa]: no view shows so little."""


class JudgedFigures(NamedTuple):
    """What a pump is judged by, as its ledger shows it [SI unit of the kind]: they add up as shown."""

    figure: float  # the vacuum at its port, or the head there is
    limit: float  # what is allowed here, or the head required
    spare: float  # below zero where it lacks
    kind: Kind


def judged_figures(ledger: Balance, system: System) -> JudgedFigures:
    """The figure of a pump, that of its limit here and what is left; what rounding leaves is the figure's."""
    if ledger.npsh_required is None:
        vacuum, allowed, margin = port_figures(ledger, system)
        return JudgedFigures(vacuum, allowed, margin, Kind.VACUUM)
    available, required = (
        shown_value(each, Kind.HEAD, system) for each in (ledger.npsh_available, ledger.npsh_required)
    )
    return JudgedFigures(available, required, available - required, Kind.HEAD)


def allowed_figure(ledger: Balance, system: System) -> float:
    """The vacuum allowed at a port, as the ledger shows it [Pa]: the air less the floor, each as shown."""
    counted = ledger.floor + ledger.allowed_vacuum  # the atmosphere, but for what of it does not count
    air, floor = (shown_value(each, Kind.ABSOLUTE, system) for each in (counted, ledger.floor))
    return air - floor


def port_figures(ledger: Balance, system: System) -> tuple[float, float, float]:
    """The vacuum at a port, what is allowed there and the margin, as the ledger shows them [Pa]."""
    allowed = allowed_figure(ledger, system)
    margin, own = (shown_value(each, Kind.VACUUM, system) for each in (ledger.margin, ledger.vacuum))
    unlike = abs(to_display(allowed - margin - own, Kind.VACUUM, system))
    return (allowed - margin if unlike <= MOST else own), allowed, margin


def is_at_port(pressure: float, ledger: Balance) -> bool:
    """Whether a pressure on the way to a port is that at the port, however its sum was made [Pa absolute]."""
    return abs(pressure - ledger.inlet) <= ALIKE


def shown_pressure(pressure: float, ledger: Balance, system: System) -> float:
    """A pressure on the way to a port, as the ledger shows it [Pa absolute]: that at the port takes what
    rounding leaves."""
    own = shown_value(pressure, Kind.VACUUM, system)
    if not is_at_port(pressure, ledger):
        return own
    floor, margin = (shown_value(each, Kind.VACUUM, system) for each in (ledger.floor, ledger.margin))
    unlike = abs(to_display(floor + margin - own, Kind.VACUUM, system))
    return floor + margin if unlike <= MOST else own


class RoundedLedger:
    """The figures of a pump's ledger [shown unit of a vacuum].

    What is at the fluid surface, floor, margin and lift are each rounded from their own value, as they are
    quoted elsewhere. The budget, and what is spent, lost and left at the port, takes what rounding leaves,
    and so do the steps and entries of each sum that are nearest to it. All views of a ledger show these.
    """

    def __init__(self, ledger: PumpLedger, system: System) -> None:
        self._ledger, self._system = ledger, system
        self.surface, self.floor = self.own(ledger.surface), self.own(ledger.floor)
        self.budget = round(self.surface - self.floor, PLACES)
        self.margin = self.own(ledger.margin)
        self.lift = self.own(sum([entry.lift for entry in ledger.entries]))
        self.spent = self._taking(self.budget - self.margin, ledger.spent)
        self.loss = self._taking(self.spent - self.lift, sum([entry.loss for entry in ledger.entries]))
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
        pressure = self.inlet if is_at_port(entry.pressure, self._ledger) else self.own(entry.pressure)
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
