"""A changed drawing solved in every case: where one pump has the least margin, and what is found there."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from solver.findings import line as of_line
from solver.findings.checks import Finding
from solver.findings.criteria import criteria_of, subjects
from solver.findings.judgement import judged
from solver.layout.parts import Layout, Level
from solver.ledger.cases import CaseSolution, solve_cases
from solver.ledger.solve import PumpLedger, Solution
from solver.network.row_cache import RowCache


class NotJudgedError(ValueError):
    """A change after which a case that was judged before can be judged no longer."""


@dataclass(frozen=True, slots=True)
class Other:
    """How a pump that is not the one in question stands, over all cases."""

    within: bool  # in every case in which it runs, and every case was judged
    margin: float  # the least of them [Pa]; infinite where it runs in none


@dataclass(frozen=True)
class Judged:
    """One pump of a drawing in the case where its margin is least."""

    layout: Layout
    case: str
    solutions: Mapping[str, Solution]  # by case, those in which the pump runs
    solved: Mapping[str, CaseSolution]  # every case
    pump: str
    others: Mapping[str, Other]
    unjudged: Mapping[str, str]  # case -> why it was not judged

    @property
    def solution(self) -> Solution:
        """The drawing solved in that case."""
        return self.solutions[self.case]

    @property
    def ledger(self) -> PumpLedger:
        """The pump's ledger in that case."""
        return self.solution.pumps[self.pump]

    @property
    def parts(self) -> frozenset[str]:
        """The parts on any way to the pump, in that case, and the reservoirs that it draws from."""
        return self.parts_of[self.pump]

    @cached_property
    def parts_of(self) -> Mapping[str, frozenset[str]]:
        """`parts` of every pump that runs in that case."""
        intakes = self.solution.layout.intakes
        by_pump: dict[str, frozenset[str]] = {}
        for name, ledger in self.solution.pumps.items():
            parts = {entry.part for entry in (*ledger.entries, *ledger.parallel_entries)}
            drawn_from = {intakes[part].reservoir for part in parts if part in intakes}
            by_pump[name] = frozenset({ledger.reservoir, *drawn_from, *parts})
        return by_pump

    @property
    def cases(self) -> tuple[str, ...]:
        """In which the pump was judged."""
        return tuple(self.solutions)

    @property
    def margin(self) -> float:
        """Margin of the pump in that case [Pa]."""
        return self.ledger.margin

    @property
    def sound(self) -> bool:
        """Whether the pump is within and its column holds, in every case in which it was judged."""
        return all(solution.pumps[self.pump].sound for solution in self.solutions.values())

    @property
    def spare(self) -> float:
        """Margin over the criterion for a thin one [Pa]; below zero where it is thin."""
        held = criteria_of(self.solution.layout)
        return self.margin - max(held.thin_pressure, held.thin_margin * max(self.ledger.budget, 0.0))

    @cached_property
    def too_fast(self) -> float:
        """By how much the fluid is faster than is allowed, at the worst [m/s]; below 0 where slower."""
        excesses = (
            fastest.velocity - of_line.velocity_criteria(subject)[-1][1]
            for solution in self.solutions.values()
            for subject in subjects(solution)
            if subject.ledger.pump == self.pump and (fastest := of_line.fastest_pipe(subject)) is not None
        )
        return max(excesses, default=0.0)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What is found in any case, the worst first."""
        return judged(self.solution.layout, self.solved).findings


def judge(
    layout: Layout, pump: str, level: Level, cases: tuple[str, ...] = (), rows: RowCache | None = None
) -> Judged:
    """Solve a drawing in every case and pick the one that leaves a pump least.

    Parameters: `cases` in which the pump must still be judged; `rows` kept from earlier solves.
    Raises NotJudgedError where it is not, and in no case at all; errors as `solve_cases`.
    """
    return judged_pump(layout, solve_cases(layout, level, rows), pump, cases)


def judged_pump(
    layout: Layout, solved: Mapping[str, CaseSolution], pump: str, cases: tuple[str, ...] = ()
) -> Judged:
    """One pump of a drawing that is solved in every case. Parameters and errors as `judge`."""
    running = {
        name: each.solution
        for name, each in solved.items()
        if each.solution is not None and pump in each.solution.pumps
    }
    if missing := [name for name in cases if name not in running] or not running:
        raise NotJudgedError(f"{pump} is not judged in {missing if running else 'any case'}")
    decides = min(running, key=lambda name: running[name].pumps[pump].margin)
    others = {other: _other(solved, other) for other in layout.pumps if other != pump}
    unjudged = {name: each.why(layout.units) for name, each in solved.items() if each.error is not None}
    return Judged(layout, decides, running, solved, pump, others, unjudged)


def _other(solved: Mapping[str, CaseSolution], pump: str) -> Other:
    ledgers = [
        case.solution.pumps[pump]
        for case in solved.values()
        if case.solution is not None and pump in case.solution.pumps
    ]
    every = all(case.solution is not None for case in solved.values())
    within = every and all(ledger.sound for ledger in ledgers)
    return Other(within, min((ledger.margin for ledger in ledgers), default=math.inf))
