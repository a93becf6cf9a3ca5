"""What is recommended as work: what to ask, to build and to read, in order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from solver.field.foot_valve import with_foot_valve
from solver.field.priming import priming
from solver.field.visits import read_running
from solver.findings.cold_line import warm_first
from solver.findings.criteria import Finding
from solver.findings.judgement import Judgement, PumpInCase
from solver.findings.kinds import FindingId
from solver.findings.outlook import left_cold
from solver.fixes.overhead import ASK
from solver.ledger.sentences import limit_unknown
from solver.ledger.solve import PumpLedger
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import capitalised
from solver.report.as_built import as_built, ordered_fix
from solver.report.choices import Choice, is_over, lacks, stop_of, worst_places
from solver.report.choosing import JudgedDrawing, is_replaced, rebuilds
from solver.report.clearing import to_clear
from solver.report.expected import expected_readings, gauge_for
from solver.report.recommendation import aim, bought, cleared_for
from solver.report.ways import cleared_by_order, orders_to_clear


def order_of_work(
    chosen: JudgedDrawing,
    system: System,
    measures: Sequence[str] = (),
    priming_plan: str = "",
    conditions: Sequence[str] = (),
    instead: bool = False,
    drawn: Judgement | None = None,
) -> Iterator[str]:
    """What to do first, second and so on, an order each.

    Parameters: `chosen`, what is to be built; `measures`, what of that is not built but kept up, an order
    each; `priming_plan`, the heading under which the reader has the priming plan, "" where it is not at hand;
    `conditions`, for which alone it is built; `instead`, whether the recommendation names a change that would
    do in its place; `drawn`, the drawing as it stands, where what a gauge shows there now is said too.
    """
    judgement = chosen.judgement
    places = worst_places(judgement)
    yield from _ask(judgement, places, system)
    yield from _from_above(chosen, places, system)
    for case in judgement.not_judged:
        yield f'Give what the case "{case.name}" lacks: {case.why(system)}.'
    if chosen.name and not is_replaced(chosen):
        yield from (each.order for each in bought(chosen, system))
        where = f", where this is wanted: {'; '.join(conditions)}" if conditions else ""
        other = ", or what is recommended in its place" if instead else ""
        nothing_built = chosen.base is not None and not rebuilds(chosen.base, judgement.layout)
        if measures and nothing_built:
            yield f"Provide and keep up{where}: {'; '.join(measures)}{other}."
        else:
            yield f"{chosen.order}{where}{other}."
            yield from (f"Provide and keep up: {'; '.join(each)}." for each in (measures,) if each)
    yield from _changes(chosen, places, system)
    yield from orders_to_clear(chosen, to_clear(chosen))
    yield from dict.fromkeys(warm_first(each.part) for each in left_cold(judgement))
    yield from _to_the_start(chosen, places, system, priming_plan, drawn)


def _ask(judgement: Judgement, places: Sequence[tuple[str, PumpInCase]], system: System) -> Iterator[str]:
    """To ask the makers for limits that they have not stated; what stands in the place of all, once."""
    asked = [each for pump, place in places for each in _not_stated(judgement, pump, place, system)]
    if not asked:
        return
    fluid, (first, *others) = judgement.layout.fluid.name, asked
    if not others:
        named = f"{first[0]} ({first[1]} here)"
    elif len({taken for _, taken in asked}) == 1:
        named = f"{', of '.join(pump for pump, _ in asked[:-1])} and of {asked[-1][0]} (all {first[1]} here)"
    else:
        named = ", and of ".join(f"{pump} ({taken} here)" for pump, taken in asked)
    whose = "makers" if others else "maker"
    yield f"Ask the {whose} for the least inlet pressure with {fluid} of {named}."


def _to_the_start(
    chosen: JudgedDrawing,
    places: Sequence[tuple[str, PumpInCase]],
    system: System,
    priming_plan: str,
    drawn: Judgement | None,
) -> Iterator[str]:
    """What is done on the line as built: filled, then read at a start; none of it where a pump is not to be
    started so."""
    judgement = chosen.judgement
    changed = [pump for pump, place in places if is_over(place) or _stops(judgement, place)]
    if held := [pump for pump, place in places if pump in changed and _is_held(chosen, pump, place)]:
        yield f"Do not start {_and(held)} on this line: fill it once what stands against that is put right."
        return
    flooded = [each.part for each in cleared_by_order(chosen, to_clear(chosen)) if _is_of_a_valve(each)]
    others = [each for each in places if each[0] not in flooded]
    fitting, lacking = ([], []) if changed else _foot_valves(judgement, others, system)
    if lacking:
        yield (
            f"Do not start {_and(lacking)} on this line: a foot valve would hold it full, and none is fitted "
            "until the line has the margin for it."
        )
        return
    if fitting:
        yield f"Fit a foot valve in the line of {_and(fitting)}, and fill it by hand before every start."
    clearing = any(orders_to_clear(chosen, to_clear(chosen)))
    opened = clearing or (chosen.name and (chosen.base is None or rebuilds(chosen.base, judgement.layout)))
    if opened or any(lacks(place) or _drains(place.ledger) for _, place in places):
        plan = f', as the priming plan says (under "{priming_plan}")' if priming_plan else ""
        first = f"Do not start {_and(changed)} before that; then fill" if changed else "Fill"
        filled = _what_to_fill(judgement, places, system)
        yield f"{first} {filled} before {_which_start(chosen, places)}{plan}."
    if places:
        yield _read(chosen, system, drawn, as_it_is=not changed)


def _read(chosen: JudgedDrawing, system: System, drawn: Judgement | None, *, as_it_is: bool) -> str:
    """To read a gauge at each port, and what it should show of the line as then built: with all that is
    ordered, or, where that cannot be judged together, of what is drawn alone.

    as_it_is: whether what is drawn may be started without what is ordered besides.
    """
    together = as_built(chosen)
    if together is not None and any(is_over(place) for place in together.pumps_in_cases):
        together = None
    judgement = chosen.judgement if together is None else together
    gauge, besides = gauge_for(judgement, system)
    at = "the port" if len(judgement.layout.pumps) == 1 else "each port"
    order = f"Read {gauge} at {at}"
    if together is None and not as_it_is:
        return f"{order}, with warm and with cold fluid."
    readings = "; ".join(expected_readings(judgement, drawn, system))
    which = ""
    if together is None:
        which = f" with {chosen.called} alone" if chosen.name else " as drawn"
    elif together is not chosen.judgement:
        which = " as then built"
    warm = " with a warm line" if left_cold(judgement) else ""
    return f"{order}. Expected{which}{warm}: {readings}. {besides}".rstrip()


def _is_of_a_valve(finding: Finding) -> bool:
    """Whether it asks for a foot valve, which nobody fits where what is ordered ends it."""
    return finding.finding is FindingId.NO_FOOT_VALVE


def _is_held(chosen: JudgedDrawing, pump: str, place: PumpInCase) -> bool:
    """Whether nothing that is ordered ends what stands against a start of a pump."""
    choice, stop = chosen.chosen.get(pump, Choice(None)), stop_of(chosen.judgement, place)
    ended = stop is not None and bool(cleared_for(chosen, stop))
    served = bool(choice.serves) and choice.then is not None and choice.then.ledger.sound
    fix = ordered_fix(chosen, pump, place)
    return not (ended or served or (fix is not None and fix.is_enough))


def _foot_valves(
    judgement: Judgement, places: Sequence[tuple[str, PumpInCase]], system: System
) -> tuple[list[str], list[str]]:
    """The pumps that do not draw full a line that nothing holds full, as their priming plans have it: those
    for which a foot valve is fitted, and those whose line lacks the margin for one."""
    fitting, lacking = list[str](), list[str]()
    for pump, place in places:
        solution = judgement.cases[place.case].solution
        primed = None if solution is None else priming(solution, pump, system)
        if solution is None or primed is None or primed.flooded or primed.foot_valve:
            continue
        if primed.draws_dry is False:
            valve = with_foot_valve(judgement, solution, pump, system)
            (fitting if valve.fits or not valve.words else lacking).append(pump)
    return fitting, lacking


def _and(names: Sequence[str]) -> str:
    return " and ".join(names)


def _what_to_fill(judgement: Judgement, places: Sequence[tuple[str, PumpInCase]], system: System) -> str:
    """The line with its pump; the pump alone where it draws full a line that nothing holds full, as its
    priming plan has it."""
    for pump, place in places:
        solution = judgement.cases[place.case].solution
        primed = None if solution is None else priming(solution, pump, system)
        if primed is None or primed.flooded or primed.foot_valve or not primed.draws_dry:
            return "line and pump"
    names = " and ".join(pump for pump, _ in places)
    whose = "each of which draws its" if len(places) > 1 else "which draws its"
    return f"{names}, {whose} empty line full," if names else "line and pump"


def _which_start(chosen: JudgedDrawing, places: Sequence[tuple[str, PumpInCase]]) -> str:
    """The first start of all, or of a pump that was read running the one after its line was opened."""
    layout = chosen.judgement.layout if chosen.base is None else chosen.base
    run = any(read_running(layout, pump) for pump, _ in places)
    return "the first start after the line was opened" if run else "the first start"


def _stops(judgement: Judgement, place: PumpInCase) -> bool:
    """Whether anything keeps a pump from running but a line that is still cold, which is warmed first."""
    stop = stop_of(judgement, place)
    return stop is not None and stop.finding is not FindingId.LINE_LEFT_COLD


def _drains(ledger: PumpLedger) -> bool:
    """Whether the top of a line rises over the fluid, so that air stands in it before a first start."""
    entries = (*ledger.entries, *ledger.parallel_entries)
    return any(entry.z + entry.bore / 2 > ledger.fluid_level for entry in entries)


def _changes(
    chosen: JudgedDrawing, places: Sequence[tuple[str, PumpInCase]], system: System
) -> Iterator[str]:
    """What else is to be done for each pump."""
    for pump, place in places:
        stop = stop_of(chosen.judgement, place)
        if stop is not None and not cleared_for(chosen, stop):
            if _stops(chosen.judgement, place):
                yield f"Put right for {pump}: {stop.text}."
        elif (fix := ordered_fix(chosen, pump, place)) is not None:
            yield f"{capitalised(f'{aim(chosen, fix, place)}{fix.text}')}; it needs: {fix.cost}."


def _from_above(
    chosen: JudgedDrawing, places: Sequence[tuple[str, PumpInCase]], system: System
) -> Iterator[str]:
    """What is to be settled before anything is built, as no change of the line is enough."""
    for pump, place in places:
        needed = chosen.chosen.get(pump, Choice(None)).overhead
        if needed is not None and is_over(place):
            none = "no change of the line that was tried is"
            yield f"Settle first what is enough for {pump}, for {none}: {needed.in_short(system)}. {ASK}."


def _not_stated(
    judgement: Judgement, pump: str, place: PumpInCase, system: System
) -> Iterator[tuple[str, str]]:
    """A pump whose limit its maker has not stated with the speed it is for, and what stands in its place."""
    assumed = judgement.layout.pumps[pump].limit_assumed
    if assumed or place.ledger.limit_estimated or limit_unknown(place.ledger):
        speed = place.ledger.speed
        at = "" if speed is None else f" at {typeset(speed, Kind.SPEED, system)}"
        yield f"{pump}{at}", "assumed" if assumed else "estimated"
