"""What the solver makes of a drawing: a solution with its findings, or the reasons why there is none."""

from __future__ import annotations

from dataclasses import dataclass, replace

from solver.findings.checks import Finding
from solver.findings.criteria import in_case
from solver.findings.judgement import Judgement, PumpInCase, judge
from solver.findings.kinds import Severity
from solver.findings.outlook import Outlook, of_pump, outlook, own_headline
from solver.layout.cases import AS_DRAWN, cases_of
from solver.layout.file import Drawing
from solver.layout.parts import FluidChoice, Layout, Level, Site
from solver.ledger.cases import CaseSolution
from solver.ledger.solve import PumpLedger, Solution
from solver.network.build import NetworkError
from solver.network.row_cache import RowCache
from solver.properties.fluid import FluidError
from solver.quantities import units
from solver.quantities.units import System


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the solver makes of one layout at one level."""

    layout: Layout
    level: Level
    solution: Solution | None
    refusal: tuple[tuple[str, str], ...]  # ((part, what is wrong), ...)
    case: str = AS_DRAWN  # the one in view, whose solution this is
    judgement: Judgement | None = None  # by all cases; None where there is no line to calculate

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What is found in any case, each thing with the cases that it holds in; none without a judgement."""
        return self.judgement.findings if self.judgement is not None else ()

    @property
    def severities(self) -> tuple[Severity, ...]:
        """How grave each finding is, the worst first."""
        return self.judgement.severities if self.judgement is not None else ()

    def outlook(self, pump: str, system: System) -> Outlook | None:
        """What the drawing comes to in all its cases; None where none could be solved."""
        if self.judgement is None or pump not in self.layout.pumps:
            return None
        shown = outlook(self.judgement, system, self.case)
        return shown if self.case == AS_DRAWN else replace(shown, word=f'{shown.word}; shown: "{self.case}"')

    def beside_headline(self, pump: str, system: System) -> str:
        """How a pump stands whose figures are shown under the headline of another; "" under its own."""
        worst = self.judgement.worst() if self.judgement is not None else None
        if self.judgement is None or worst is None or pump in ("", worst.pump):
            return ""
        return f"Shown here, {of_pump(pump, own_headline(self.judgement, pump, system, self.case))}"

    def worst_elsewhere(self, pump: str) -> PumpInCase | None:
        """Where a pump stands worst in the cases that are not in view; None where there is no other."""
        if self.judgement is None:
            return None
        return self.judgement.worst(pump, [name for name in self.judgement.cases if name != self.case])

    def ledgers_of_other_cases(self, pump: str) -> tuple[tuple[str, PumpLedger], ...]:
        """A pump's ledgers in the cases that are not in view, by the names of those."""
        solved = self.judgement.cases if self.judgement is not None else {}
        return tuple(
            (name, case.solution.pumps[pump])
            for name, case in solved.items()
            if name != self.case and case.solution is not None and pump in case.solution.pumps
        )

    def margins(self, pump: str) -> dict[str, float]:
        """A pump's margin in every case that it is judged in [Pa]."""
        ledger = self.ledger(pump)
        own = {} if ledger is None else {self.case: ledger.margin}
        return own | {name: each.margin for name, each in self.ledgers_of_other_cases(pump)}

    @property
    def case_words(self) -> str:
        """The case in view as a sentence ends with it; "" for the only one."""
        return in_case(self.case) if self.judgement is not None and len(self.judgement.cases) > 1 else ""

    @property
    def not_judged(self) -> tuple[CaseSolution, ...]:
        """The cases that could not be judged."""
        return () if self.judgement is None else self.judgement.not_judged

    def matches(self, layout: Layout, level: Level) -> bool:
        """Whether it is of this layout at this level, whatever case is in view."""
        return self.layout is layout and self.level == level

    def showing(self, case: str) -> Outcome:
        """The outcome with another case in view; that of the drawing as it stands where there is no such."""
        wanted = case if case in cases_of(self.layout) else AS_DRAWN
        if wanted == self.case:
            return self
        if self.judgement is None:
            return replace(self, case=wanted)
        return _in_view(self.judgement, self.layout, self.level, wanted)

    def ledger(self, pump: str) -> PumpLedger | None:
        """A pump's ledger; None where it has none."""
        return self.solution.pumps.get(pump) if self.solution else None

    def pump_that_runs(self, pump: str) -> str:
        """That pump where it runs in the case in view, else the first one that does, if any."""
        pumps = self.solution.pumps if self.solution is not None else {}
        return pump if pump in pumps else next(iter(pumps), pump)

    def first_pump(self) -> str:
        """The pump that a drawing opens with: the one that its headline is of, where it runs in view."""
        worst = self.judgement.worst() if self.judgement is not None else None
        return self.pump_that_runs(worst.pump if worst is not None else next(iter(self.layout.pumps), ""))

    def rest(self, pump: str) -> tuple[tuple[str, str], ...]:
        """That a pump is at rest in the case in view, as a refusal; nothing where it is not."""
        if self.solution is None or pump not in self.solution.resting:
            return ()
        return ((pump, f'at rest in the case "{self.case}": it takes nothing and has no margin'),)

    def entries(self) -> set[str]:
        """The keys of all entries of all pumps."""
        pumps = self.solution.pumps.values() if self.solution else ()
        return {entry.key for pump in pumps for entry in (*pump.entries, *pump.parallel_entries)}


class Outcomes:
    """Outcomes by what they are of, each worked out once for as long as that stays the same."""

    def __init__(self, rows: RowCache) -> None:
        """rows: of the open drawing, which its alternatives share."""
        self._held: dict[str, Outcome] = {}
        self._rows = rows

    def of(self, what: str, layout: Layout, level: Level, case: str) -> Outcome:
        """The outcome of a layout, held under a name. Parameters as `solved`."""
        held = self._held.get(what) if self.has(what, layout, level) else None
        if held is None:
            held = solve_layout(layout, level, case, self._rows)
        held = self._held[what] = held.showing(case)
        return held

    def has(self, what: str, layout: Layout, level: Level) -> bool:
        """Whether the outcome of a layout is held under a name."""
        held = self._held.get(what)
        return held is not None and held.matches(layout, level)

    def keep(self, what: str, outcome: Outcome) -> None:
        """Hold what was solved elsewhere, so that it is not solved again here."""
        self._held[what] = outcome


def solve_layout(layout: Layout, level: Level, case: str = AS_DRAWN, rows: RowCache | None = None) -> Outcome:
    """Solve a layout in every case; `level`: of the cases that name none; `case`: the one in view.

    rows: kept from earlier solves of the open drawing.

    An error of the solver that is no refusal passes through.
    """
    shown = case if case in cases_of(layout) else AS_DRAWN
    try:
        judgement = judge(layout, level, rows)
    except (NetworkError, FluidError) as error:
        return Outcome(layout, level, None, _refusal(error, shown, layout), shown)
    return _in_view(judgement, layout, level, shown)


def _in_view(judgement: Judgement, layout: Layout, level: Level, case: str) -> Outcome:
    solved = judgement.cases[case]
    refusal = () if solved.error is None else _refusal(solved.error, case, layout)
    return Outcome(layout, level, solved.solution, refusal, case, judgement)


def _refusal(error: ValueError, case: str, layout: Layout) -> tuple[tuple[str, str], ...]:
    if isinstance(error, NetworkError):
        return error.problems
    if isinstance(error, FluidError):
        return ((error.part, error.text_in(layout.units)),)
    return ((case, str(error)),)


def levels_of(layout: Layout) -> tuple[Level, ...]:
    """The fluid levels that can be told apart in a drawing, of those the solver knows."""
    drawn = any(tank.draw_down is not None for tank in layout.reservoirs.values())
    return tuple(level for level in Level if drawn or level != Level.DRAWN_DOWN)


def has_typed_level(layout: Layout) -> bool:
    """Whether fluid stands at a figure of the case or the drawing rather than at one of its levels."""
    return any(tank.level is not None for tank in layout.reservoirs.values())


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
