"""What speaks against an answer besides the margin: a finding that begins on the way, or no such place."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator
from dataclasses import replace

from solver.answers.answer import HIGHEST_PORT, LOWEST_LEVEL, Answer
from solver.answers.reasons import Solutions
from solver.findings.checks import check
from solver.findings.criteria import Finding
from solver.findings.kinds import OVER_BUDGET, FindingId, Severity
from solver.geometry.reservoirs import no_place
from solver.layout.parts import Layout
from solver.ledger.sentences import clause
from solver.ledger.solve import PumpLedger, Solution
from solver.quantities.units import System

OF_THE_ANSWER = frozenset(
    {
        FindingId.THIN_MARGIN,
        FindingId.LIMIT_ESTIMATED,
        FindingId.NEAR_VAPOR_PRESSURE,
        FindingId.START_VISCOSITY,
        FindingId.RUNNING_VISCOSITY,
        FindingId.NO_WEATHER_ALLOWANCE,
    }
)
"""Findings that the answer itself speaks of, or that any margin used up brings with it."""


NEVER_TAKEN_FOR_GRANTED = frozenset({FindingId.DOUBLES_BACK})
"""Findings of the drawing as it stands that speak against an answer too: nothing can be built so."""


def objection(
    present: Iterable[Finding], at_limit: Solutions, pump: str, spoken: Container[FindingId] = ()
) -> Finding | None:
    """The gravest finding of caution or worse that begins on the way, or with which nothing can be built.

    None where there is none.

    present: of `findings_above_note`, of the drawing as it stands; at_limit: the cases solved with the answer
    put in; spoken: findings that the answer speaks of.
    """
    before = {
        (each.finding, each.part): each.severity.rank
        for each in present
        if each.finding not in NEVER_TAKEN_FOR_GRANTED
    }
    begun = (
        each
        for each in findings_above_note(at_limit, pump)
        if each.finding not in spoken
        and each.severity.rank < before.get((each.finding, each.part), Severity.NOTE.rank)
    )
    return min(begun, key=lambda each: each.severity.rank, default=None)


def findings_above_note(solutions: Solutions, pump: str) -> Iterator[Finding]:
    """Findings of caution and worse in any case, but for what the answer itself speaks of."""
    for solution in solutions.values():
        for each in check(solution, passed_over=OF_THE_ANSWER):
            own = each.finding in OVER_BUDGET and each.part == pump
            if each.severity != Severity.NOTE and not own:
                yield _in_short(each, solution)


def _in_short(finding: Finding, solution: Solution) -> Finding:
    """A finding in short: of another pump that is over by how much alone, not what a gauge shows there."""
    if finding.finding not in OVER_BUDGET:
        return finding
    system = System(solution.layout.units)
    return replace(finding, text=f"{finding.part}: {clause(solution.pumps[finding.part], system)}")


def with_no_place(answer: Answer, layout: Layout, ledger: PumpLedger) -> Answer:
    """The answer; where no pump can stand at that height, or the tank never is so full, with the reason."""
    if answer.value is None or answer.question not in (HIGHEST_PORT, LOWEST_LEVEL):
        return answer
    if answer.question == LOWEST_LEVEL:
        normal = layout.reservoirs[ledger.reservoir].normal_level.si
        why = where = "over the normal level" if answer.value > normal else ""
    else:
        why = no_place(layout, ledger.pump, ledger.reservoir, answer.value)
        where = f"{why} at its present place"
    return replace(answer, text=f"{answer.text}, {where}", no_place=why) if why else answer
