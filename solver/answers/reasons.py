"""What an answer is bound by: the floor, or something that stops the pump before its margin is spent."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from enum import StrEnum
from typing import NamedTuple

from solver.findings.checks import CHECKS
from solver.findings.criteria import subjects
from solver.findings.kinds import FindingId, Severity
from solver.findings.line import fastest_pipe, velocity_criteria
from solver.ledger.solve import Balance, Solution


class Reason(StrEnum):
    """What binds an answer."""

    FLOOR = "floor"
    VAPOR_PRESSURE = "vapour pressure"
    VORTEX = "vortex"
    VISCOSITY = "viscosity"
    BEND_ROOM = "bend room"
    VELOCITY = "velocity"
    SEARCH = "end of the search"


Solutions = Mapping[str, Solution]
"""The cases in which a pump is judged, by name."""


def to_spare(solution: Solution, pump: str) -> float:
    """What a pump has left in one case [Pa]: its margin, or where that is less what its column of fluid has
    left before it breaks."""
    return balance_to_spare(solution.pumps[pump])


def balance_to_spare(balance: Balance) -> float:
    """What a pump has left by its sums alone [Pa]."""
    return min(balance.margin, balance.lowest - balance.vapor_pressure)


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
    """Why a search ended, by the error that refused the figure beyond; None where there was none."""
    return Reason.BEND_ROOM if error is not None and "bend" in str(error) else Reason.SEARCH


class ExcessVelocity(NamedTuple):
    """The pipe in which the fluid comes nearest to the velocity that it must not pass, or passes it most."""

    share: float  # by which it is passed; below zero where it is not
    part: str
    most: float  # [m/s]


def excess_velocity(solutions: Solutions, pump: str) -> ExcessVelocity:
    """By what share the fluid runs too fast on the way to a pump, in the worst of its cases."""
    worst = ExcessVelocity(-math.inf, "", math.inf)
    for solution in solutions.values():
        subject = next(each for each in subjects(solution) if each.ledger.pump == pump)
        fastest = fastest_pipe(subject)
        stops = [most for severity, most in velocity_criteria(subject) if severity == Severity.STOP]
        if fastest is not None and stops:
            (most,) = stops
            worst = max(worst, ExcessVelocity(fastest.velocity / most - 1.0, fastest.part, most))
    return worst


_SUBMERGENCE = next(row for row in CHECKS if row.finding == FindingId.SUBMERGENCE)


def lacks_depth(solutions: Iterable[Solution]) -> float:
    """What the worst intake lacks of the depth that keeps a vortex away [m]; 0 where none lacks any."""
    hits = (
        hit for solution in solutions for subject in subjects(solution) for hit in _SUBMERGENCE.look(subject)
    )
    return max(((hit.threshold or 0.0) - (hit.value or 0.0) for hit in hits), default=0.0)


def vortex_begins(
    solve: Callable[[float], Solutions], now: float, end: float, tolerance: float
) -> float | None:
    """Where a vortex may begin to draw air in; `now` where one does already, None where none does.

    Parameters: `solve`, every case with the level at a height [m]; levels `now` and at the `end` [m].
    """

    def lacking(x: float) -> float:
        return lacks_depth(solve(x).values())

    if lacking(now):
        return now
    deepest = lacking(end)
    if not deepest:
        return None
    near, far, middle = now, end, end + deepest + tolerance / 2  # the depth lost is the level's
    while abs(far - near) > tolerance:
        if not min(near, far) < middle < max(near, far):
            middle = (near + far) / 2
        near, far = (near, middle) if lacking(middle) else (middle, far)
        middle -= 0.9 * tolerance
    return far
