"""What would have to stand over a port, or be pumped into it, where nothing on the line is enough.

Worked out of the ledgers in hand. The flow of a line is its pump's, so that pressure added at its beginning
arrives whole at every place of it; the loss of a longer line comes on top.
"""

from __future__ import annotations

from dataclasses import astuple, dataclass

from solver.findings.criteria import criteria_of
from solver.fixes.judging import Judged
from solver.formulas.symbols import GRAVITY
from solver.ledger.sentences import HIGHEST_TANK, limit_unknown
from solver.quantities.units import Kind, System, shown_beside, typeset
from solver.quantities.wording import ledger_pressure

NOTHING_ENOUGH = "No change of the line as it stands is enough"
ASK = "Ask the pump's maker what pressure its inlet and shaft seal may take"


@dataclass(frozen=True, slots=True)
class Overhead:
    """What one pump needs in every case in which it was judged, its margin no longer thin."""

    height: float  # of the lowest fluid level over the port [m]; below zero under it
    pressure: float  # absolute, at the port [Pa]
    gauge: float  # the same over the atmosphere [Pa]
    flow: float  # that a charge pump has to give at least [m³/s]
    thin: float  # of it all, what is kept over the floor [Pa]

    def sentence(self, system: System) -> str:
        """Both ways, with what they ask for."""
        return (
            f"{NOTHING_ENOUGH}. In every case that was judged it would take {self.would_do(system)}. {ASK}."
        )

    def would_do(self, system: System) -> str:
        """Both ways, as a part of a sentence; a tank that nobody can stand so high as out of reach."""
        height = self._high(system)
        line, thin = "with a line that takes no more than this one", ledger_pressure(self.thin, system)
        kept = f"{thin} of that is kept over what the pump needs, so that the margin is not thin"
        if self.height > HIGHEST_TANK:
            return (
                f"{self._charged(system)}; {kept}; a tank is out of reach, as its lowest "
                f"fluid level would have to stand {height} over the port, {line}"
            )
        side = "over" if self.height >= 0 else "under"
        least = "no less than" if self.height >= 0 else "no more than"
        tank = f"a tank whose lowest fluid level stands {least} {height} {side} the port, {line}"
        return f"{tank}; or {self._charged(system)}; {kept}"

    def in_short(self, system: System) -> str:
        """What is to be provided, without what it is made of."""
        if self.height > HIGHEST_TANK:
            return self._charged(system)
        side, least = ("over", "no less than") if self.height >= 0 else ("under", "no more than")
        height = self._high(system)
        return (
            f"a tank whose lowest fluid level stands {least} {height} {side} the port, "
            f"or {self._charged(system)}"
        )

    def _high(self, system: System) -> str:
        """How high over or under the port: the figure next to it that is enough."""
        enough = shown_beside(self.height, Kind.LENGTH, system, above=True)
        return typeset(abs(enough), Kind.LENGTH, system)

    def _charged(self, system: System) -> str:
        """A charge pump that would do."""
        gauge, pressure, flow = (
            typeset(shown_beside(figure, kind, system, above=True), kind, system)
            for figure, kind in (
                (self.gauge, Kind.PRESSURE),
                (self.pressure, Kind.ABSOLUTE),
                (self.flow, Kind.FLOW),
            )
        )
        gauge = f" ({gauge} on a gauge)" if self.gauge > 0 else ""
        return f"a charge pump that gives {flow} and keeps at least {pressure} at the port{gauge}"


def overhead(now: Judged) -> Overhead | None:
    """What a pump needs from above; None where a limit that nobody knows would have to be met."""
    needs: list[Overhead] = []
    for solution in now.solutions.values():
        ledger, held = solution.pumps[now.pump], criteria_of(solution.layout)
        if limit_unknown(ledger):
            return None
        thin = max(held.thin_pressure, held.thin_margin * max(ledger.budget, 0.0))
        added = max(thin - ledger.margin, ledger.vapor_pressure + thin - ledger.lowest)
        pressure = max(ledger.floor, ledger.vapor_pressure) + thin
        height = ledger.flooded_head + added / (ledger.density * GRAVITY)
        needs.append(Overhead(height, pressure, pressure - ledger.atmosphere, ledger.flow, thin))
    columns = zip(*map(astuple, needs), strict=True)
    return Overhead(*(max(column) for column in columns))
