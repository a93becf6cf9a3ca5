"""What speaks against an answer beside the margin: a finding that begins on the way to it."""

from __future__ import annotations

from collections.abc import Iterator

from solver.answers.reasons import Solutions
from solver.findings.checks import check
from solver.findings.criteria import Finding
from solver.findings.kinds import OVER_BUDGET, FindingId, Severity

OF_THE_ANSWER = frozenset(
    {
        FindingId.THIN_MARGIN,
        FindingId.LIMIT_ESTIMATED,
        FindingId.NEAR_VAPOR_PRESSURE,
        FindingId.START_VISCOSITY,
        FindingId.RUNNING_VISCOSITY,
    }
)
"""Findings that the answer itself speaks of."""


def objection(present: Solutions, there: Solutions, pump: str) -> Finding | None:
    """The gravest finding of caution or worse that begins on the way; None where none does.

    present, there: the cases solved as the drawing stands, and with the answer put in.
    """
    before = {(each.finding, each.part): each.severity.rank for each in _grave(present, pump)}
    begun = (
        each
        for each in _grave(there, pump)
        if each.severity.rank < before.get((each.finding, each.part), Severity.NOTE.rank)
    )
    return min(begun, key=lambda each: each.severity.rank, default=None)


def _grave(solutions: Solutions, pump: str) -> Iterator[Finding]:
    for solution in solutions.values():
        for each in check(solution):
            own = each.finding in OVER_BUDGET and each.part == pump
            if each.severity != Severity.NOTE and each.finding not in OF_THE_ANSWER and not own:
                yield each
