"""A changed drawing solved in every case: where one pump has the least margin, and what is found there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from solver.findings.checks import Finding, check
from solver.findings.criteria import criteria_of
from solver.fixes.candidate import Edited
from solver.layout.parts import Level
from solver.ledger.solve import PumpLedger, Solution, solve

THIN_PRESSURE = 1.7e3
"""Margin under which a line is thin whatever its budget [Pa]; common practice, no source."""


@dataclass(frozen=True)
class Judged:
    """One pump of a drawing in the case where its margin is least."""

    case: str
    solution: Solution
    ledger: PumpLedger
    others: Mapping[str, bool]  # whether each other pump is within in every case

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


def judge(edited: Edited, pump: str, level: Level) -> Judged:
    """Solve a drawing in every case and pick the one that leaves a pump least.

    Raises ValueError where a case that was judged before cannot be calculated any more.
    """
    solved = tuple(_solved(edited, level))
    case, solution, ledger = min(
        ((name, solution, pumps[pump]) for name, solution, pumps in solved), key=lambda each: each[2].margin
    )
    others = {
        name: all(pumps[name].sound for _, _, pumps in solved) for name in edited.layout.pumps if name != pump
    }
    return Judged(case, solution, ledger, others)


def _solved(edited: Edited, level: Level) -> Iterator[tuple[str, Solution, Mapping[str, PumpLedger]]]:
    """Every case of a drawing by name, with its ledgers."""
    solution = solve(edited.layout, level)
    yield "as drawn", solution, solution.pumps
    start = solution.cold_start
    if start is not None and not start.error:
        yield "coldest start", solution, start.pumps
