"""What the solver makes of a drawing: a solution with its findings, or the reasons why there is none."""

from __future__ import annotations

from dataclasses import dataclass, replace

from solver.findings import checks
from solver.findings.checks import Finding
from solver.findings.outlook import Outlook, outlook
from solver.layout.file import Drawing
from solver.layout.parts import FluidChoice, Layout, Level, Site
from solver.ledger import solve
from solver.ledger.solve import PumpLedger, Solution
from solver.network.build import NetworkError
from solver.network.row_cache import RowCache
from solver.properties.fluid import FluidError
from solver.quantities import units
from solver.quantities.units import System
from solver.quantities.wording import degrees


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the solver makes of one layout at one level."""

    layout: Layout
    level: Level
    solution: Solution | None
    refusal: tuple[tuple[str, str], ...]  # ((part, what is wrong), ...)
    findings: tuple[Finding, ...]
    cold: bool = False  # at the coldest start, where one is given that is colder

    def outlook(self, pump: str, system: System) -> Outlook | None:
        """How a pump stands; None where it is not calculated."""
        if self.solution is None or pump not in self.solution.pumps:
            return None
        warm = outlook(self.solution, self.findings, pump, system)
        if not self.cold:
            return warm
        start = degrees(self.solution.fluid.temperature, system)
        return replace(warm, word=f"{warm.word}, at the {start} start")

    def matches(self, layout: Layout, level: Level, cold: bool) -> bool:
        """Whether it is of this layout at this level and start."""
        same = self.layout is layout and self.level == level
        return same and self.cold is (cold and has_cold_start(layout))

    def ledger(self, pump: str) -> PumpLedger | None:
        """A pump's ledger; None where it has none."""
        return self.solution.pumps.get(pump) if self.solution else None

    def entries(self) -> set[str]:
        """The keys of all entries of all pumps."""
        pumps = self.solution.pumps.values() if self.solution else ()
        return {entry.key for pump in pumps for entry in (*pump.entries, *pump.beside)}


class Outcomes:
    """Outcomes by what they are of, each worked out once for as long as that stays the same."""

    def __init__(self, rows: RowCache) -> None:
        """rows: of the open drawing, which its alternatives share."""
        self._held: dict[str, Outcome] = {}
        self._rows = rows

    def of(self, what: str, layout: Layout, level: Level, cold: bool) -> Outcome:
        """The outcome of a layout, held under a name. Parameters of `solve_layout`."""
        held = self._held.get(what)
        if held is None or not held.matches(layout, level, cold):
            held = self._held[what] = solve_layout(layout, level, cold, self._rows)
        return held


def has_cold_start(layout: Layout) -> bool:
    """Whether the layout gives a coldest start that is colder than its fluid."""
    return layout.fluid.at_coldest() is not None


def solve_layout(layout: Layout, level: Level, cold: bool = False, rows: RowCache | None = None) -> Outcome:
    """Solve a layout at a level; `cold`: with its fluid as it is at the coldest start, where one is given.

    rows: kept from earlier solves of the open drawing.

    An error of the solver that is no refusal passes through.
    """
    chilled = layout.fluid.at_coldest() if cold else None
    cold = chilled is not None
    refusal: tuple[tuple[str, str], ...]
    try:
        solution = solve.solve(layout if chilled is None else replace(layout, fluid=chilled), level, rows)
    except NetworkError as error:
        refusal = error.problems
    except FluidError as error:
        refusal = ((error.part, error.text_in(System(layout.units))),)
    else:
        return Outcome(layout, level, solution, (), checks.check(solution), cold)
    return Outcome(layout, level, None, refusal, (), cold)


def levels_of(layout: Layout) -> tuple[Level, ...]:
    """The fluid levels that can be told apart in a drawing, of those the solver knows."""
    drawn = any(tank.draw_down is not None for tank in layout.reservoirs.values())
    return tuple(level for level in Level if drawn or level != Level.DRAWN_DOWN)


def has_part(layout: Layout, name: str) -> bool:
    """Whether the layout has a part of that name."""
    try:
        layout.part(name)
    except KeyError:
        return False
    return True


def empty_drawing() -> Drawing:
    """A drawing with nothing on it, at sea level."""
    elevation = units.quantity("0 ft", units.Kind.ELEVATION)
    temperature = units.quantity("45 degC", units.Kind.TEMPERATURE)
    base = Layout(
        title="",
        site=Site(elevation=elevation),
        fluid=FluidChoice(name="Mineral oil, ISO VG 46", temperature=temperature),
        reservoirs={},
        intakes={},
        pumps={},
        runs={},
    )
    return Drawing(base=base, alternatives={}, text="")
