"""How cold a start and how hot a fluid may be: asked with one temperature in all cases."""

from __future__ import annotations

from dataclasses import replace

from solver.answers import running
from solver.answers.answer import Answer, Status, stopped
from solver.answers.reasons import Reason, Solutions, decisive, to_spare
from solver.answers.variations import GIVEN, Variation
from solver.answers.varied_drawing import PresentDrawing
from solver.layout.cases import AS_DRAWN
from solver.ledger.solve import Solution
from solver.quantities.units import Kind, System, shown_beside
from solver.quantities.wording import degrees

COLDEST_START = "coldest start"
HOTTEST = "hottest fluid"
OF_TEMPERATURE = (COLDEST_START, HOTTEST)
"""Asked with one temperature in all cases, from the coldest or the hottest that any of them has."""


def at_one_temperature(drawn: PresentDrawing, question: str) -> PresentDrawing:
    """The drawing that a question is asked of: with one fluid in all cases for one of a temperature."""
    if question not in OF_TEMPERATURE:
        return drawn
    return drawn.as_at_the_coldest if question == COLDEST_START else drawn.as_at_the_hottest


def with_pump_figures(answer: Answer, drawn: PresentDrawing) -> Answer:
    """The answer with what every case was held to because the extreme one has it."""
    extreme = drawn.coldest if answer.question == COLDEST_START else drawn.hottest
    figures = [path for path in drawn.pump_figures(extreme) if path[1] in drawn.layout.pumps]
    if not figures or answer.value is None:
        return answer
    keys = {pump: [key for _, name, key in figures if name == pump] for _, pump, _ in figures}
    names = " and ".join(f"the {' and the '.join(each)} of {pump}" for pump, each in keys.items())
    return replace(answer, text=f'{answer.text}; with {names} in every case as in "{extreme[0]}"')


def with_own_temperature(answer: Answer, at_one: Solutions, drawn: PresentDrawing) -> Answer:
    """The answer that a case is over at a temperature of another, with that it is within at its own.

    at_one: the cases with one temperature in all of them.
    """
    case = decisive(at_one, drawn.pump)
    own = drawn.present[case]
    if answer.status != Status.ALREADY_OVER or to_spare(own, drawn.pump) < 0.0:
        return answer
    whose = "as drawn" if case == AS_DRAWN else f'of "{case}" itself'
    warmth = degrees(own.fluid.temperature, drawn.layout.units)
    return replace(answer, text=f"{answer.text}; at the {warmth} {whose} it is within")


def from_the_extreme(variation: Variation, question: str, solutions: Solutions) -> Variation:
    """The question asked from the coldest fluid of any case, or of the hottest fluid from that.

    Where the cases differ, it is said that all of them have one temperature.
    """
    temperatures = {solution.fluid.temperature for solution in solutions.values()}
    extreme = (max if question == HOTTEST else min)(temperatures)
    if len(temperatures) > 1:
        variation = replace(variation, meaning=f"{variation.meaning}, the same in every case")
    if extreme == variation.now:
        return variation
    return replace(variation, now=extreme, from_here=GIVEN, alters=True)


def thick_first(answer: Answer, present: Solution, pump: str, system: System) -> Answer:
    """The coldest start, where the fluid is too thick for the pump before its margin is spent."""
    thick = running.thickest_start(present, pump)
    if thick is None or answer.value is None or answer.status not in (Status.FOUND, Status.NO_LIMIT):
        return answer
    if thick <= answer.value or present.tank_fluid.temperature < thick:
        return answer
    sentence = answer.text.partition(": ")[2]
    warm = shown_beside(thick, Kind.TEMPERATURE, system, above=True)
    text = f"Coldest start: {degrees(warm, system)}, by the pump's start viscosity; by the margin {sentence}"
    return stopped(answer, thick, Reason.VISCOSITY, text)


def thin_first(answer: Answer, present: Solution, pump: str, system: System) -> Answer:
    """The hottest fluid, where it is too thin for the pump before its margin is spent."""
    thin = running.thinnest_run(present, pump)
    if thin is None or answer.value is None or answer.status not in (Status.FOUND, Status.NO_LIMIT):
        return answer
    if thin >= answer.value or present.fluid.temperature > thin:
        return answer
    sentence = answer.text.partition(": ")[2]
    most = degrees(shown_beside(thin, Kind.TEMPERATURE, system, above=False), system)
    text = f"Hottest fluid: up to {most}, by the usual running viscosity; by the margin {sentence}"
    return stopped(answer, thin, Reason.VISCOSITY, text)
