"""What of the open drawing is shown, and how: nothing of it stands in the file."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sketch.model.outcome import Outcome, has_part, levels_of
from solver.layout.cases import AS_DRAWN
from solver.layout.parts import Layout, Level
from solver.quantities.units import System


@dataclass(frozen=True, slots=True)
class Shown:
    """A choice of units, alternative, level, case, pump, part and entry."""

    system: System
    alternative: str = ""  # "" for the base
    level: Level = Level.MINIMUM
    case: str = AS_DRAWN  # the one in view, where the layout has it
    others: bool = False  # the other cases stand behind the one in view
    pump: str = ""  # whose ledger is shown
    selected: str = ""  # a part's name
    pointed: str = ""  # an entry's key

    def for_outcome(self, outcome: Outcome) -> Shown:
        """The choice without a pump, part or entry that the outcome does not have."""
        pumps = outcome.layout.pumps
        pump = self.pump if self.pump in pumps else next(iter(pumps), "")
        selected = self.selected if self.selected and has_part(outcome.layout, self.selected) else ""
        gone = self.pointed and outcome.solution and self.pointed not in outcome.entries()
        return replace(self, pump=pump, selected=selected, pointed="" if gone else self.pointed)

    def for_drawing(self, alternative: str, layout: Layout, system: System) -> Shown:
        """The choice for another drawing: level and case stay where it has them, the rest begins anew."""
        level = self.level if self.level in levels_of(layout) else Level.MINIMUM
        return Shown(system, alternative, level, self.case, self.others)
