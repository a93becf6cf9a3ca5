"""A first start with the fluid not as warm as a plan is solved with: as in the coldest case, or as read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from solver.field import card
from solver.field.mounts import Mount
from solver.findings.judgement import Judgement
from solver.layout.parts import Layout
from solver.ledger.cases import CaseSolution
from solver.ledger.sentences import clause
from solver.ledger.solve import Solution
from solver.quantities.units import Kind, System, quantity
from solver.quantities.wording import degrees, gauge_reading, reached

COLDER = 5.0
"""By how much a case is colder before its own figures are given [K]; common practice, no source."""


def colder_case(judgement: Judgement, solution: Solution, pump: str) -> CaseSolution | None:
    """The coldest case in which a pump runs, where that is colder than a solution; None without one."""
    limit = solution.fluid.temperature - COLDER
    cold = [
        (case.solution.fluid.temperature, case)
        for case in judgement.cases.values()
        if case.solution is not None and pump in case.solution.pumps
    ]
    temperature, case = min(cold, key=lambda each: each[0], default=(limit, None))
    return case if temperature < limit else None


def not_so_cold(judgement: Judgement, solution: Solution, pump: str, system: System) -> Iterator[str]:
    """That a pump is not started as cold as in the coldest case, where it is over there and not as solved."""
    case = colder_case(judgement, solution, pump)
    if case is None or case.solution is None or not solution.pumps[pump].sound:
        return
    ledger = case.solution.pumps[pump]
    if not ledger.sound:
        yield (
            f'Do not start {pump} with the fluid as cold as in "{case.name}", '
            f"{degrees(case.solution.fluid.temperature, system)}: the line is then {clause(ledger, system)}. "
            "A first start is seldom a warm one: measure the fluid, and warm it first."
        )


def cold_gauge(
    judgement: Judgement, solution: Solution, pump: str, mount: Mount, system: System
) -> Iterator[str]:
    """What the gauge at the port shows in the coldest case, and from which reading on to stop there."""
    warm, case = degrees(solution.fluid.temperature, system), colder_case(judgement, solution, pump)
    if case is None or case.solution is None:
        if judgement.lacks_coldest_start:
            yield (
                f"With the fluid colder than {warm} it shows more vacuum: the drawing has no colder case, "
                "and says nothing of that start."
            )
        return
    ledger = case.solution.pumps[pump]
    row = card.row_of(judgement, case.solution, pump, system)
    name = f'In "{case.name}", at {degrees(case.solution.fluid.temperature, system)},'
    if row.stop is None or ledger.breaks:
        yield f"{name} there is no reading up to which it may run."
        return
    shown = gauge_reading(ledger.vacuum + mount.shift(case.solution), system)
    yield f"{name} it shows {shown}: stop there at {reached(row.stop, system)}."


def other_temperature(layout: Layout, solution: Solution, pump: str, system: System) -> Iterator[str]:
    """That the figures are of another temperature than the newest reading notes."""
    read = [each for each in layout.readings if each.pump == pump]
    newest = max(read, key=lambda each: each.moment, default=None)
    fluid = newest.state.get("fluid") if newest is not None else None
    typed = fluid.get("temperature") if isinstance(fluid, Mapping) else None
    if newest is None or not isinstance(typed, str):
        return
    try:
        noted = degrees(quantity(typed, Kind.TEMPERATURE).si, system)
    except ValueError:
        return  # which the reading's own refusal names
    solved = degrees(solution.fluid.temperature, system)
    if noted != solved:
        yield (
            f"These figures hold at {solved}; the newest reading, of {newest.day}, notes {noted}: for that "
            f"take the card's row, or a case, of that temperature."
        )
