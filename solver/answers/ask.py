"""Questions answered backwards: how far may one thing go before the margin is spent?

Each holds everything else and looks for the place where the margin of the real solve reaches zero: the least
of the margins in all cases in which the pump is judged. The case that decides is named.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from solver.answers import running, variations
from solver.answers.answer import (
    DECIDES,
    HIGHEST_PORT,
    LOWEST_LEVEL,
    Answer,
    Status,
    as_stated,
    on_estimate,
    shown_as,
    stopped,
    within,
)
from solver.answers.by_case import with_each_case
from solver.answers.objections import findings_above_note, objection, with_no_place
from solver.answers.reasons import (
    Reason,
    Solutions,
    decisive,
    excess_velocity,
    lacks_depth,
    least_to_spare,
    reason_of,
    refused_for,
    vortex_begins,
)
from solver.answers.roots import AHEAD, Crossing, crossing, with_some_left
from solver.answers.temperatures import (
    COLDEST_START,
    HOTTEST,
    OF_TEMPERATURE,
    at_one_temperature,
    from_the_extreme,
    thick_first,
    thin_first,
    with_own_temperature,
    with_pump_figures,
)
from solver.answers.variations import GIVEN, Variation
from solver.answers.varied_drawing import PresentDrawing, VariedDrawing
from solver.findings.criteria import Finding
from solver.findings.kinds import FindingId
from solver.layout.cases import AS_DRAWN, cases_of, only_case
from solver.layout.parts import Layout, Level
from solver.ledger.solve import PumpLedger, Solution
from solver.network.row_cache import RowCache
from solver.properties import sizes
from solver.quantities.units import Kind, System, shown_beside, typeset
from solver.quantities.wording import capitalised, end_text

OF_THE_LEVEL = (FindingId.SUBMERGENCE, FindingId.INTAKE_UNCOVERED)
"""Findings that the answer about the level itself speaks of."""
SAME_VELOCITY = 1e-6
"""Shares of a velocity this near are the same."""
LEVEL_STEP = 1e-3
"""How near the level is found at which a vortex begins [m]."""

ESTIMATING = ("highest speed", "largest flow", "heaviest fluid")
"""Questions that lead away from what the maker's limit was stated for."""

ANY_SIZE = "NPS 2 schedule 40"
"""Its family is searched where every bore of the line was typed as a figure."""


def highest_port(
    layout: Layout,
    pump: str,
    level: Level = Level.MINIMUM,
    solution: Solution | None = None,
    cache: RowCache | None = None,
) -> Answer:
    """How high the port may stand.

    Parameters: `pump`, its name; `level`, a `Level`; `solution` of this layout at this
    level, if it is at hand; `cache` as in `ledger.solve`. Returns an elevation [m]; lines stretch with the
    port as they do when it is dragged. Errors as `ledger.solve`.
    """
    return ask(HIGHEST_PORT, layout, pump, level, solution, cache)


def ask(
    question: str,
    layout: Layout,
    pump: str,
    level: Level = Level.MINIMUM,
    solution: Solution | None = None,
    cache: RowCache | None = None,
) -> Answer:
    """Answer one of `QUESTIONS`.

    Parameters as `highest_port`. Raises KeyError for a question or a pump that does not exist, and errors as
    `ledger.solve` where the drawing as it stands cannot be solved.
    """
    rows = cache if cache is not None else RowCache()
    known = {AS_DRAWN: solution} if solution is not None and list(cases_of(layout)) == [AS_DRAWN] else None
    return _asked(question, PresentDrawing(layout, pump, level, rows, known))


def place(question: str, drawn: PresentDrawing) -> float | None:
    """How far one thing may go, or would have to go where the margin is spent; None where there is no figure.

    Not for questions about temperatures. Errors as `ask`.
    """
    variation = _variation(question, drawn)
    if isinstance(variation, str):
        return None
    answer = _answer(question, variation, drawn.varied(variation), drawn.layout.units)
    return answer.value if answer.status in (Status.FOUND, Status.ALREADY_OVER) else None


def _shown(drawn: PresentDrawing) -> Solution:
    """The drawing as it stands; where that is not judged, the first case that is."""
    present = drawn.present
    return replace(present.get(AS_DRAWN) or next(iter(present.values())), layout=drawn.layout)


def _variation(question: str, drawn: PresentDrawing) -> Variation | str:
    first = _shown(drawn)
    margin = least_to_spare(drawn.present, drawn.pump)
    return QUESTIONS[question](first, replace(first.pumps[drawn.pump], margin=margin))


def _asked(question: str, as_drawn: PresentDrawing) -> Answer:
    """Answer one question of a drawing. Errors as `ask`."""
    drawn = at_one_temperature(as_drawn, question)
    present, pump, first = drawn.present, drawn.pump, _shown(drawn)
    ledger, system = first.pumps[pump], drawn.layout.units
    variation = _variation(question, drawn)
    if isinstance(variation, str):
        text = f"{capitalised(question)}: {variation}"
        return Answer(question, None, text, Kind.NUMBER, Status.NOT_ASKED)
    if question in OF_TEMPERATURE:
        variation = from_the_extreme(variation, question, as_drawn.present)
    varied = drawn.varied(variation)
    asked = _answer(question, variation, varied, system)
    answer = with_no_place(asked, drawn.layout, ledger)
    if answer.status in (Status.FOUND, Status.ALREADY_OVER):
        at_limit = present if answer.value is None else varied.solutions(answer.value)
        answer = _bound(answer, at_limit, pump)
        answer = _deciding(answer, at_limit, pump)
    if question in OF_TEMPERATURE:
        first_reached = thick_first if question == COLDEST_START else thin_first
        answer = first_reached(answer, first, pump, system)
    if question == LOWEST_LEVEL and answer.status in (Status.FOUND, Status.NO_LIMIT):
        answer = _vortex_first(answer, variation, varied, system)
    answer = _velocity_first(answer, variation, varied, system)
    if question in ESTIMATING and answer.value is not None:
        at_limit = varied.solutions(answer.value)
        answer = on_estimate(answer, at_limit[decisive(at_limit, pump)].pumps[pump])
    other = question in OF_TEMPERATURE and variation.alters
    now = findings_above_note(varied.solutions(variation.now), pump) if other else drawn.findings_above_note
    answer = _objected(answer, now, varied, as_stated(answer, variation.now, system))
    if question in OF_TEMPERATURE:
        answer = with_pump_figures(answer, as_drawn)
        answer = with_own_temperature(answer, varied.solutions(variation.now), as_drawn)
    if question == "smallest bore":
        answer = _with_size(answer, first, ledger, varied)
    answer = as_stated(answer, variation.now, system)
    noted = question == COLDEST_START and answer.reason == Reason.VISCOSITY  # what the note says
    return answer if noted or not variation.note else replace(answer, text=f"{answer.text}; {variation.note}")


def _bound(answer: Answer, at_limit: Solutions, pump: str) -> Answer:
    """An answer with what binds it, said where that is not the floor."""
    if answer.value is None:
        return answer
    reason = reason_of(at_limit[decisive(at_limit, pump)], pump)
    text = (
        f"{answer.text}; there the column of fluid breaks" if reason == Reason.VAPOR_PRESSURE else answer.text
    )
    return replace(answer, text=text, reason=reason)


_COVERED: Mapping[str, tuple[FindingId, ...]] = {
    LOWEST_LEVEL: OF_THE_LEVEL,
    "most added K": (FindingId.STRAIGHT_BEFORE_PORT,),  # where the fitting stands, nobody has said
}
"""Findings that the answer to a question says itself, or that only the way it is asked brings about."""


def _objected(answer: Answer, present: Iterable[Finding], varied: VariedDrawing, rounded: Answer) -> Answer:
    """The answer with the gravest finding that begins on the way to it, in the figures that are said."""
    if answer.value is None or rounded.figure is None or answer.status == Status.ALREADY_OVER:
        return answer
    covered: tuple[FindingId, ...] = _COVERED.get(answer.question, ())
    if answer.reason == Reason.VELOCITY:
        covered = (FindingId.SUCTION_VELOCITY,)
    reason = objection(present, varied.solutions(answer.value), varied.pump, covered)
    if reason is not None:
        reason = objection(present, varied.solutions(rounded.figure), varied.pump, covered)
    return answer if reason is None else replace(answer, text=f"{answer.text}; but then: {reason.text}")


def _vortex_first(answer: Answer, variation: Variation, varied: VariedDrawing, system: System) -> Answer:
    """The lowest level, with the one below which a vortex may draw air in."""
    assert answer.value is not None  # there is one where there is a limit
    begins = vortex_begins(varied.solutions, variation.now, answer.value, LEVEL_STEP)
    if begins is None:
        return answer
    sentence = answer.text.partition(": ")[2]
    place = typeset(shown_beside(begins, variation.kind, system, above=True), variation.kind, system)
    where = f"below {place} a vortex may draw air in"
    if begins == variation.now:
        lacks = lacks_depth(varied.solutions(begins).values())
        place = typeset(begins, variation.kind, system)
        above = shown_beside(begins + lacks, variation.kind, system, above=True)
        enough = typeset(above, variation.kind, system)
        where = f"at {place} a vortex may draw air in already, up to {enough}"
    text = f"Lowest fluid level: {where}; by the margin {sentence}"
    return stopped(answer, begins, Reason.VORTEX, text)


def _velocity_first(answer: Answer, variation: Variation, varied: VariedDrawing, system: System) -> Answer:
    """The answer where the fluid comes to run too fast on the way to it: how far that goes before."""
    if answer.value is None or answer.status == Status.ALREADY_OVER:
        return answer
    at_limit = excess_velocity(varied.solutions(answer.value), varied.pump)
    now = excess_velocity(varied.solutions(variation.now), varied.pump)
    if at_limit.share <= max(0.0, now.share + SAME_VELOCITY):
        return answer
    label, _, sentence = answer.text.partition(": ")
    most = typeset(at_limit.most, Kind.VELOCITY, system)
    if now.share > 0:
        fast = f"already the fluid in {now.part} runs faster than {most}, where a stop begins"
        text = f"{label}: {fast}; by the margin {sentence}"
        return stopped(answer, variation.now, Reason.VELOCITY, text)

    def to_spare(place: float) -> float:
        return -excess_velocity(varied.solutions(variation.value_at(place)), varied.pump).share

    start, end = variation.of_value(variation.now), variation.of_value(answer.value)
    first = AHEAD * (end - start) * now.share / (now.share - at_limit.share)
    near = abs(variation.of_value(variation.now + variation.tolerance) - start)
    at = variation.value_at(crossing(to_spare, start, end, first, near, SAME_VELOCITY).at)
    shown = shown_as(variation.kind)(within(Status.FOUND, at, variation.now, variation.kind, system), system)
    text = f"{label}: {shown}, by the velocity in {at_limit.part}, {most} at most; by the margin {sentence}"
    return stopped(answer, at, Reason.VELOCITY, text)


def _deciding(answer: Answer, at_limit: Solutions, pump: str) -> Answer:
    """The answer with the case that sets it named, where that is not the drawing as it stands."""
    name = decisive(at_limit, pump)
    known = answer.status == Status.ALREADY_OVER and _in_case(name) in answer.text
    return answer if name == AS_DRAWN or known else replace(answer, text=answer.text + DECIDES.format(name))


def ask_all(layout: Layout, pump: str, level: Level = Level.MINIMUM, case: str = "") -> tuple[Answer, ...]:
    """Every question of `QUESTIONS`, in order. Parameters and errors as `ask`.

    case: the only one that is asked about. A question that finds no answer says why, and leaves the others
    theirs. How high a port may stand, and what is over as far as it goes, is answered for each case as well.
    Raises KeyError for a case that does not exist, CaseError for one that does not hold.
    """
    asked = only_case(layout, case) if case else layout
    drawn = PresentDrawing(asked, pump, level, RowCache())
    answers = [_answered(question, drawn) for question in QUESTIONS]
    if not case:
        answers = with_each_case(answers, drawn, _answered)
    return tuple(replace(_without(answer, drawn.missing), case=case) for answer in answers)


def _without(answer: Answer, missing: Iterable[str]) -> Answer:
    """An answer that says which cases it leaves out, as they could not be judged."""
    if not missing or answer.status in (Status.NOT_ASKED, Status.NO_ANSWER):
        return answer
    named = ", ".join(f'"{name}"' for name in missing)
    return replace(answer, text=f"{answer.text}; {named} not judged, and left out")


def _answered(question: str, drawn: PresentDrawing) -> Answer:
    try:
        return _asked(question, drawn)
    except (ValueError, ArithmeticError) as error:
        why = end_text(error, drawn.layout.units) if isinstance(error, ValueError) else f"no figure ({error})"
        text = f"{capitalised(question)}: no answer, the search was refused: {why}"
        return Answer(question, None, text, Kind.NUMBER, Status.NO_ANSWER)


def _answer(question: str, variation: Variation, varied: VariedDrawing, system: System) -> Answer:
    now = varied.least(variation.now)
    end = variation.worst if now >= 0 else variation.best
    variation = variation if now >= 0 else replace(variation, power=0.0, lost=None)
    first = variation.step(now, varied.deciding(variation.now))
    reached = _crossed(variation, varied, end, first)
    status = Status.ALREADY_OVER if now < 0 else Status.FOUND if reached.found else Status.NO_LIMIT
    value = reached.at if now >= 0 or reached.found else None
    case = decisive(varied.solutions(variation.now), varied.pump)
    sentence = _sentence(status, reached, variation, system, _in_case(case))
    text = f"{capitalised(variation.name or question)}: {sentence}"
    reason = refused_for(reached.refused) if status == Status.NO_LIMIT else None
    return Answer(question, value, text, variation.kind, status, reason=reason)


def _crossed(variation: Variation, varied: VariedDrawing, end: float, first: float) -> Crossing:
    """Where the margin reaches zero on the way from the value now to an end; it is looked for as it falls."""
    value_at, start = variation.value_at, variation.of_value(variation.now)
    near = abs(variation.of_value(variation.now + variation.tolerance) - start)

    def of_deciding(place: float) -> Callable[[float], float]:
        left = varied.of_deciding(value_at(place))
        return lambda other: left(value_at(other))

    def least(place: float) -> float:
        return varied.least(value_at(place))

    edges = tuple(map(variation.of_value, variation.edges))
    reached = crossing(
        least, start, variation.of_value(end), first, near, variation.enough, of_deciding, edges
    )
    root = replace(reached, at=value_at(reached.at))
    return with_some_left(varied.least, root, variation.now, variation.tolerance)


def _in_case(case: str) -> str:
    """In which case, as it stands behind a word; "" as drawn."""
    return "" if case == AS_DRAWN else f' in "{case}"'


def _sentence(status: Status, reached: Crossing, variation: Variation, system: System, case: str) -> str:
    shown = shown_as(variation.kind)
    at = within(status, reached.at, variation.now, variation.kind, system) if reached.found else reached.at
    place, start = shown(at, system), shown(variation.now, system)
    meant, higher = variation.meaning, reached.at > variation.now
    if status == Status.FOUND:
        return f"{place} ({variation.from_here} {start}), {meant}"
    why = f" ({end_text(reached.refused, system)})" if reached.refused else ""
    if status == Status.NO_LIMIT:
        stop = why or f", {variation.worst_is}".rstrip(", ")
        way = f"{'up' if higher else 'down'} to {place} ({variation.from_here} {start})"
        return f"enough is left {way}, {meant}; the search ends there{stop}"
    given = f"the {start} given" if variation.from_here == GIVEN else start
    over = f"already over{case} at {given}, {meant}"
    if reached.found:
        to = f"to a little {'over' if higher else 'under'} that" if place == start else f"to {place}"
        way = "go up" if higher else "come down"
        return f"{over}; it would have to {way} {to}{_below_sea_note(variation, reached.at)}"
    stop = f"where the search ends{why}" if why else variation.best_is
    return f"{over}, {stop}" if reached.at == variation.now else f"{over}, and still over at {place}, {stop}"


def _below_sea_note(variation: Variation, value: float) -> str:
    """What a site below sea level means to one that looks for another place."""
    return ", so it is over at any site above it" if variation.kind is Kind.ELEVATION and value < 0 else ""


def _with_size(answer: Answer, present: Solution, ledger: PumpLedger, varied: VariedDrawing) -> Answer:
    """The answer with the next standard size up that has margin, from the family of the line's own sizes."""
    if answer.status == Status.NO_LIMIT or answer.value is None:
        return answer
    layout, names = present.layout, variations.line_parts(ledger)
    typed = [layout.runs[name].size for name in names if name in layout.runs]
    family = sizes.family(next((size for size in typed if size is not None), ANY_SIZE))
    for size in sizes.stocked():
        if sizes.family(size) == family and sizes.bore(size) >= answer.value * (1 - 1e-6):
            try:
                left = varied.least_of(variations.with_bore(layout, names, size=size))
            except ValueError:  # its bends find no room
                continue
            if left >= 0 and not _too_fast(answer, varied, sizes.bore(size)):
                return replace(answer, size=size, text=f"{answer.text}; next standard size up: {size}")
    return replace(answer, text=f"{answer.text}; no standard size of {family} is wide enough")


def _too_fast(answer: Answer, varied: VariedDrawing, bore: float) -> bool:
    """Whether the velocity that set the answer stops the pump at another bore [m] too."""
    if answer.reason != Reason.VELOCITY:
        return False
    return excess_velocity(varied.solutions(bore), varied.pump).share > SAME_VELOCITY


QUESTIONS: Mapping[str, Callable[[Solution, PumpLedger], Variation | str]] = {
    HIGHEST_PORT: variations.port_height,
    "lowest fluid level": variations.fluid_level,
    "smallest bore": variations.bore,
    "longest run": variations.run_length,
    "longest hose": variations.hose_length,
    COLDEST_START: running.temperature,
    HOTTEST: running.hottest_temperature,
    "highest site": running.site_elevation,
    "lowest barometer": running.barometer,
    "highest speed": running.speed,
    "largest flow": running.pump_flow,
    "dirtiest strainer": variations.blocked,
    "least screen area": variations.screen_area,
    "most added K": variations.added_k,
    "heaviest fluid": running.density,
}
