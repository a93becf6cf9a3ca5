"""A drawing solved in every case that it has to live through."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from operator import attrgetter

from solver.layout.cases import AS_DRAWN, CaseError, cases_of, layout_in_case, passed_over
from solver.layout.parts import Case, Layout, Level
from solver.ledger.path import SharedResults
from solver.ledger.solve import Solution, solve_network
from solver.network import build
from solver.network.build import Network, NetworkError, rebuilt
from solver.network.row_cache import RowCache
from solver.properties.fluid import FluidError
from solver.quantities.units import System
from solver.quantities.wording import error_text

ALL_AT_REST = "no pump runs in it"


@dataclass(frozen=True, slots=True)
class CaseSolution:
    """One case: its ledgers, or why it could not be judged."""

    name: str
    note: str = ""
    solution: Solution | None = None
    error: CaseError | NetworkError | FluidError | None = None
    passed_over: tuple[str, ...] = ()  # figures for parts that the drawing has not, as key paths

    @property
    def judged(self) -> bool:
        """Whether there is a ledger to judge it by."""
        return self.solution is not None and bool(self.solution.pumps)

    def why(self, system: System) -> str:
        """Why it was not judged, in the units of a system; empty where it was."""
        if self.error is not None:
            return str(self.error) if isinstance(self.error, CaseError) else error_text(self.error, system)
        return "" if self.judged else ALL_AT_REST


def solve_cases(
    layout: Layout, level: Level = Level.MINIMUM, cache: RowCache | None = None
) -> Mapping[str, CaseSolution]:
    """Every case of a drawing by name, the one as drawn first.

    Parameters as `solve.solve`; `level` is that of the cases which name none. Rows that a case leaves alone
    are made once. A case that cannot be solved says why, and takes no other with it.
    Raises NetworkError where there is no line to calculate, and what stops the drawing itself where none of
    its cases can be solved.
    """
    kept = cache if cache is not None else RowCache()
    built = build.build(layout, kept)
    cases = _Cases(layout, built, level, kept)
    solutions = {name: cases.solved(name, case) for name, case in cases_of(layout).items()}
    error = solutions[AS_DRAWN].error
    if error is not None and not any(each.solution for each in solutions.values()):
        raise error
    return solutions


class _Cases:
    """The cases of one drawing, which share what they come to alike."""

    def __init__(self, layout: Layout, built: Network, level: Level, cache: RowCache) -> None:
        self._layout, self._built, self._level, self._cache = layout, built, level, cache
        self._alike = SharedResults()
        self._before: list[tuple[tuple[object, ...], Solution]] = []  # by their conditions

    def solved(self, name: str, case: Case) -> CaseSolution:
        """One case, solved or with why it cannot be."""
        absent = passed_over(self._layout, case)
        try:
            solution = self._solution(layout_in_case(self._layout, name, case))
        except (CaseError, NetworkError, FluidError) as error:
            return CaseSolution(name, case.note, error=error, passed_over=absent)
        return CaseSolution(name, case.note, solution, passed_over=absent)

    def _solution(self, layout: Layout) -> Solution:
        network = rebuilt(self._built, layout, self._cache)
        conditions = _conditions(network.layout)
        alike = next((solution for others, solution in self._before if others == conditions), None)
        if alike is not None:  # a start that is no colder than the drawing
            network = replace(alike.network, layout=network.layout)
            solution = replace(alike, layout=network.layout, network=network)
        else:
            solution = solve_network(network, self._level, self._alike)
        self._before.append((conditions, solution))
        return solution


def _conditions(layout: Layout) -> tuple[object, ...]:
    """All of a drawing that a case may change, what is compared soonest first."""
    fluid = layout.fluid
    if fluid.coldest_start is not None:  # which is a case by itself
        fluid = replace(fluid, coldest_start=None)
    return layout.level, layout.site, fluid, *_parts(layout)


_parts = attrgetter("reservoirs", "intakes", "pumps", "fittings", "tees", "runs")
