"""A changed drawing solved in every case: where one pump has the least margin, and what is found there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from solver.findings.checks import Finding, check
from solver.findings.criteria import criteria_of
from solver.layout.parts import Layout, Level
from solver.ledger.cases import CaseSolution, solve_cases
from solver.ledger.solve import PumpLedger, Solution

THIN_PRESSURE = 1.7e3
"""Margin under which a line is thin whatever its budget [Pa]; common practice, no source."""


class NotJudgedError(ValueError):
    """A change after which a case that was judged before can be judged no longer."""


@dataclass(frozen=True)
class Judged:
    """One pump of a drawing in the case where its margin is least."""

    case: str
    solution: Solution
    ledger: PumpLedger
    others: Mapping[str, bool]  # whether each other pump is within in every case
    cases: tuple[str, ...]  # in which the pump was judged

    @property
    def margin(self) -> float:
        """Margin of the pump in that case [Pa]."""
        return self.ledger.margin

    @property
    def spare(self) -> float:
        """Margin over the criterion for a thin one [Pa]; below zero where it is thin."""
        share = criteria_of(self.solution.layout).thin_margin
        return self.margin - max(THIN_PRESSURE, share * max(self.ledger.budget, 0.0))

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What is found in that case."""
        return check(self.solution)


def judge(layout: Layout, pump: str, level: Level, wanted: tuple[str, ...] = ()) -> Judged:
    """Solve a drawing in every case and pick the one that leaves a pump least.

    wanted: cases in which the pump must still be judged.
    Raises NotJudgedError where it is not, and in no case at all; errors as `solve_cases`.
    """
    solved = solve_cases(layout, level)
    running = {name: each.solution for name, each in solved.items() if _runs(each, pump)}
    if missing := [name for name in wanted if name not in running] or not running:
        raise NotJudgedError(f"{pump} is not judged in {missing if running else 'any case'}")
    name, solution = min(
        ((name, solution) for name, solution in running.items() if solution is not None),
        key=lambda each: each[1].pumps[pump].margin,
    )
    others = {other: _sound(solved, other) for other in layout.pumps if other != pump}
    return Judged(name, solution, solution.pumps[pump], others, tuple(running))


def _runs(case: CaseSolution, pump: str) -> bool:
    return case.solution is not None and pump in case.solution.pumps


def _sound(solved: Mapping[str, CaseSolution], pump: str) -> bool:
    """Whether a pump is within in every case in which it runs, and every case was judged."""
    return all(
        case.solution is not None and (pump not in case.solution.pumps or case.solution.pumps[pump].sound)
        for case in solved.values()
    )
