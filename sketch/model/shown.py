"""What of the open drawing is shown, and how: nothing of it stands in the file."""

from __future__ import annotations

from collections.abc import Iterable
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
    other_cases: bool = False  # the other cases stand behind the one in view
    pump: str = ""  # whose ledger is shown
    selection: tuple[str, ...] = ()  # names of parts, the one that was selected last at the end
    pointed: str = ""  # an entry's key

    @property
    def selected_part(self) -> str:
        """The part that was selected last; "" for none."""
        return self.selection[-1] if self.selection else ""

    def renamed(self, old: str, new: str) -> Shown:
        """The choice where a part that may be among it is called otherwise."""
        selection = tuple(new if name == old else name for name in self.selection)
        return replace(self, selection=selection, pump=new if self.pump == old else self.pump)

    def for_outcome(self, outcome: Outcome) -> Shown:
        """The choice without a pump, part or entry that the outcome does not have."""
        pumps = outcome.layout.pumps
        pump = self.pump if self.pump in pumps else outcome.first_pump()
        selection = parts_in(self.selection, outcome.layout)
        gone = self.pointed and outcome.solution and self.pointed not in outcome.entries()
        if not gone and (pump, selection) == (self.pump, self.selection):
            return self
        return replace(self, pump=pump, selection=selection, pointed="" if gone else self.pointed)

    def of_alternative(self, name: str) -> Shown:
        """The choice with that alternative shown; "" for the base."""
        return self if name == self.alternative else replace(self, alternative=name)

    def for_drawing(self, alternative: str, layout: Layout, system: System) -> Shown:
        """The choice for another drawing: level and case stay where it has them, the rest begins again."""
        level = self.level if self.level in levels_of(layout) else Level.MINIMUM
        return Shown(system, alternative, level, self.case, self.other_cases)


def parts_in(parts: Iterable[str], layout: Layout) -> tuple[str, ...]:
    """Those of the names that a layout has a part for."""
    return tuple(name for name in parts if has_part(layout, name))


def toggled(selection: tuple[str, ...], part: str) -> tuple[str, ...]:
    """The selection with a part added to it, or taken out where it was in it."""
    rest = tuple(name for name in selection if name != part)
    return rest if part in selection else (*rest, part)
