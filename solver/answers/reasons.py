"""What an answer is bound by: the floor, or something that stops the pump before its margin is spent."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from enum import StrEnum

from solver.findings.checks import check
from solver.findings.kinds import FindingId
from solver.layout.parts import Layout
from solver.ledger.solve import Solution


class Reason(StrEnum):
    """What binds an answer."""

    FLOOR = "floor"
    VAPOR_PRESSURE = "vapour pressure"
    VORTEX = "vortex"
    VISCOSITY = "viscosity"
    BEND_ROOM = "bend room"
    SEARCH = "end of the search"


Solutions = Mapping[str, Solution]
"""The cases in which a pump is judged, by name."""


def to_spare(solution: Solution, pump: str) -> float:
    """What a pump has left in one case [Pa]: its margin, or where that is less what its column of fluid has
    left before it breaks."""
    ledger = solution.pumps[pump]
    return min(ledger.margin, ledger.lowest - ledger.vapor_pressure)


def least_to_spare(solutions: Solutions, pump: str) -> float:
    """The least that a pump has left in any of its cases [Pa]."""
    return min(to_spare(solution, pump) for solution in solutions.values())


def decisive(solutions: Solutions, pump: str) -> str:
    """The case in which a pump has least left; of equal ones the first."""
    return min(solutions, key=lambda name: to_spare(solutions[name], pump))


def reason_of(solution: Solution, pump: str) -> Reason:
    """Whether the column of fluid breaks first, or the floor is reached."""
    ledger = solution.pumps[pump]
    breaks_first = ledger.lowest - ledger.vapor_pressure < ledger.margin
    return Reason.VAPOR_PRESSURE if breaks_first else Reason.FLOOR


def refused_for(error: ValueError | None) -> Reason:
    """What ended a search."""
    return Reason.BEND_ROOM if error is not None and "bend" in str(error) else Reason.SEARCH


def vortex_begins(
    change: Callable[[float], Layout],
    solve: Callable[[Layout], Solutions],
    now: float,
    end: float,
    tolerance: float,
) -> float | None:
    """Where a vortex may begin to draw air in; `now` where one does already, None where none does."""

    def draws(x: float) -> bool:
        solutions = solve(change(x))
        return any(
            finding.finding == FindingId.SUBMERGENCE
            for solution in solutions.values()
            for finding in check(solution)
        )

    if draws(now):
        return now
    if not draws(end):
        return None
    near, far = now, end
    while abs(far - near) > tolerance:
        middle = (near + far) / 2
        near, far = (near, middle) if draws(middle) else (middle, far)
    return far
