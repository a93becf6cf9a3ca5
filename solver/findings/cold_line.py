"""Checks of a line that is not as warm as its tank: one that may still be cold where its tank is warmed, as a
heater in a tank warms no hose; and one that soon holds what stands in the tank."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from solver.findings.criteria import Hit, Subject, subjects
from solver.findings.kinds import Severity
from solver.findings.pump import start_viscosity, thin_margin
from solver.layout.cases import AS_DRAWN
from solver.layout.parts import Layout
from solver.ledger.sentences import clause, sentence_of_pump, trouble
from solver.ledger.solve import Solution, solve
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import Kind, System
from solver.quantities.wording import capitalised, degrees, error_text

WHY = (
    "A warm tank does not warm what stands in the line: the first stroke draws it as cold as the place is, "
    "and a missing temperature of the line must not make the answer better."
)
"""Why it matters."""


FILLED_WHY = (
    "A pump empties its line within seconds, and draws what stands in the tank from then on: a temperature "
    "of the line must not make the answer better."
)
"""Why it matters that the line soon holds what is in the tank."""


def line_filled(subject: Subject) -> Iterator[Hit]:
    """A pump that fares worse, and not well, once its line holds the fluid of its tank."""
    solution, layout = subject.solution, subject.layout
    if layout.fluid.line_temperature is None or solution.fluid is solution.tank_fluid:
        return
    name, tank = subject.pump.name, solution.tank_fluid.temperature
    warmth = degrees(tank, subject.system)
    at = f"once its line holds what is in the tank, at {warmth}"
    advice = f"Judge it in a case of its own too, with the line at {warmth} as its tank is."
    filled = replace(layout, fluid=replace(layout.fluid, line_temperature=None))
    try:
        then = solve(filled, solution.level)
    except (NetworkError, FluidError) as error:
        text = f"{name}: not calculated {at}; {error_text(error, subject.system)}"
        yield Hit(Severity.CAUTION, name, "", None, None, Kind.VACUUM, text, advice)
        return
    for each in subjects(then, subject.criteria, subject.system):
        if each.pump.name == name and each.ledger.margin < subject.ledger.margin:
            yield from _hits(each, at, advice)


def with_line_cold(layout: Layout) -> Layout | None:
    """A case with its line still as cold as drawn, its tank warmed; None where no line is left cold in it."""
    cold = layout.lines_left_cold.get(AS_DRAWN)
    if cold is None or layout.fluid.has_one_viscosity:
        return None
    return replace(layout, fluid=replace(layout.fluid, line_temperature=cold), lines_left_cold={})


def line_left_cold(subject: Subject) -> Iterator[Hit]:
    """Every pump that is not well within with the line still as cold as drawn, its tank warmed; found with
    the first of them."""
    solution, layout = subject.solution, subject.layout
    with_cold = with_line_cold(layout)
    if with_cold is None or subject.pump.name != next(iter(solution.pumps)):
        return
    at = f"while the line is still at {degrees(layout.lines_left_cold[AS_DRAWN].si, subject.system)}"
    try:
        then = solve(with_cold, solution.level)
    except (NetworkError, FluidError) as error:
        why = error_text(error, subject.system)
        for name in solution.pumps:
            text = f"{name}: not calculated {at}; {why}"
            yield Hit(
                Severity.CAUTION,
                name,
                "",
                None,
                None,
                Kind.VACUUM,
                text,
                _advice(solution, name, subject.system),
            )
        return
    for each in subjects(then, subject.criteria, subject.system):
        yield from _hits(each, at, _advice(solution, each.pump.name, subject.system))


def _hits(subject: Subject, at: str, advice: str) -> Iterator[Hit]:
    ledger, name = subject.ledger, subject.pump.name
    too_thick = tuple(start_viscosity(subject))
    if ledger.sound and not too_thick and not any(thin_margin(subject)):
        return
    thick = [hit.text.removeprefix(f"{name}: ") for hit in too_thick]
    # What stops a pump for good stops it for the moment too, and that comes with every start.
    stopped = not ledger.sound or any(hit.severity is Severity.STOP for hit in too_thick)
    severity = Severity.STOP if stopped else Severity.CAUTION
    stands = clause(ledger, subject.system) if ledger.sound else trouble(ledger, subject.system)
    text = "; ".join([f"{name}: {stands} {at}", *thick])
    yield Hit(severity, name, "", ledger.margin, 0.0, Kind.VACUUM, text, advice)


def _advice(warm: Solution, pump: str, system: System) -> str:
    then = sentence_of_pump(warm.pumps[pump], system)
    where = f"with the line as warm as its tank, at {degrees(warm.tank_fluid.temperature, system)}"
    known = "where that is so at the start, give the line that temperature"
    return f"{warm_first(pump)} {capitalised(where)}, {then}: {known}."


def warm_first(pump: str) -> str:
    """What is to be done before a pump with a cold line is loaded, as an order."""
    return (
        f"Warm and lag the line of {pump}, or pass warm fluid through it, before {pump} is started under "
        "load; ask its maker how it may be started until then."
    )
