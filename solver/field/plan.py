"""The order of work before a first start, with the names, levels and gauge figures of the drawing.

Every step is a fact of the trade (common practice, no source) or a figure of the drawing; what only the
pump's maker knows is asked for, never filled in.
"""

from __future__ import annotations

from collections.abc import Iterator

from solver.field import card, cold_start, places
from solver.field.foot_valve import WithFootValve, with_foot_valve
from solver.field.mounts import Mount, mount_of
from solver.field.places import Place
from solver.field.pockets import Pocket
from solver.field.priming import Priming, with_fluid_of
from solver.field.visits import read_running
from solver.findings.judgement import Judgement
from solver.layout.parts import Layout
from solver.ledger.rounding import allowed_figure
from solver.ledger.sentences import clause
from solver.ledger.solve import PumpLedger, Solution
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import (
    allowance,
    capitalised,
    degrees,
    gauge_reading,
    is_none,
    is_over_atmosphere,
    reached,
)

CAUTION = (
    "The pump maker's instructions, local codes and a person licensed for the work come before this order of "
    "work. Never feel for a leak, and never loosen a fitting on a running or pressurised machine."
)
BREAKS = "no figure: the column breaks"


def facts(plan: Priming, solution: Solution, system: System, drawn: Layout) -> tuple[tuple[str, str], ...]:
    """What the plan stands on, (name, figure), in the units of a system; what is not known says so.

    solution: of the case that is shown. drawn: the drawing, with whose fluid it is at rest, as on the card.
    """
    pump, ledger = solution.layout.pumps[plan.pump], solution.pumps[plan.pump]
    level = typeset(ledger.fluid_level, Kind.LENGTH, system)
    over = f"{typeset(abs(plan.lift), Kind.LENGTH, system)} {'over' if plan.lift >= 0 else 'under'} the fluid"
    fill = (
        "nothing is empty" if plan.shortest_fill is None else typeset(plan.shortest_fill, Kind.TIME, system)
    )
    time, speed = pump.priming_time, pump.priming_speed
    return (
        ("Fluid level", f"{level} in {ledger.reservoir}"),
        ("The line holds", typeset(plan.line_volume, Kind.VOLUME, system)),
        ("Of that, above the fluid", typeset(plan.dry_volume, Kind.VOLUME, system)),
        ("The pump's case holds", _known(plan.case_volume, Kind.VOLUME, system)),
        ("Top of the line", over),
        ("Primes its line by itself", _answer(plan)),
        ("Shortest time to fill it, at full flow", fill),
        ("Longest run without fluid, by its maker", _known(time.si if time else None, Kind.TIME, system)),
        ("Lowest speed that primes, by its maker", _known(speed.si if speed else None, Kind.SPEED, system)),
        ("Gauge at the port, line full, at rest", _at_rest(plan, solution, drawn, system)),
        ("Gauge at the port, running as solved", _running_gauge(ledger, system)),
    )


def _gauge(vacuum: float, ledger: PumpLedger, system: System) -> str:
    """What a gauge shows of a vacuum at the port [Pa], where fluid can have it."""
    if ledger.atmosphere - vacuum <= ledger.vapor_pressure:
        return BREAKS
    return gauge_reading(vacuum, system)


def _running_gauge(ledger: PumpLedger, system: System) -> str:
    """What a gauge at the port shows with the pump running, where the column holds all the way."""
    return BREAKS if ledger.breaks else gauge_reading(ledger.vacuum, system)


def _known(si: float | None, kind: Kind, system: System) -> str:
    return "not known: ask its maker" if si is None else typeset(si, kind, system)


def _answer(plan: Priming) -> str:
    word = {True: "yes", False: "no", None: "not known"}[plan.draws_dry]
    return f"{word}: {plan.draws_dry_why}" if plan.draws_dry is not None else plan.draws_dry_why


def _at_rest(plan: Priming, solution: Solution, drawn: Layout, system: System) -> str:
    """What a gauge shows at rest and at which temperature: that of the drawing, as on the card."""
    resting = with_fluid_of(solution, drawn)
    shown = _gauge(places.at_rest(resting, Place(plan.pump)), resting.pumps[plan.pump], system)
    return f"{shown}, fluid at {degrees(resting.fluid.temperature, system)}"


def steps(plan: Priming, judgement: Judgement, solution: Solution, system: System) -> tuple[str, ...]:
    """The order of work, in the units of a system.

    judgement: of the drawing in all its cases. solution: of the case that is shown.
    """
    layout = solution.layout
    return (
        *cold_start.not_so_cold(judgement, solution, plan.pump, system),
        *_before(plan, solution, system),
        *_refitting(plan, layout),
        *_filling(plan, judgement, solution, system),
        *(_venting(pocket, plan, system) for pocket in plan.pockets),
        *_full(plan, solution, judgement.layout, system),
        *_starting(plan, layout, system),
        " ".join(_running(plan, judgement, solution, system)),
    )


SCALDS = 323.15
"""Temperature from which a fluid that runs out of a line is warned of [K]; common practice, no source."""


def _hot(plan: Priming, temperature: float, system: System) -> Iterator[str]:
    if temperature >= SCALDS:
        yield (
            f"In service the fluid is at {degrees(temperature, system)}, which scalds: where {plan.pump} has "
            "run, let it cool before anything is opened."
        )


def _before(plan: Priming, solution: Solution, system: System) -> Iterator[str]:
    ledger = solution.pumps[plan.pump]
    if not ledger.sound:
        yield (
            f"Do not start {plan.pump} yet: the line as solved here is not fit to run: "
            f"{clause(ledger, system)}. Mend that first; a primed pump on such a line is harmed all "
            f"the same."
        )
    others = ""
    if plan.sharing:
        those, draw = ("that", "draws") if len(plan.sharing) == 1 else ("those", "draw")
        others = f", and {those} of {' and '.join(plan.sharing)}, which {draw} through the same line"
    yield (
        f"Lower or prop the load. Stop the drive, lock it off and tag it{others}. Discharge accumulators, "
        "and prove zero pressure on a gauge."
    )
    yield from _hot(plan, solution.fluid.temperature, system)
    if plan.pressed:
        yield (
            f"Let the pressure off {ledger.reservoir} slowly, and prove on a gauge that none is left, before "
            "anything is opened."
        )
    yield from _shutting(plan, ledger)
    yield (
        f"See that the fluid in {ledger.reservoir} stands at "
        f"{typeset(ledger.fluid_level, Kind.LENGTH, system)} or higher."
    )


def _shutting(plan: Priming, ledger: PumpLedger) -> Iterator[str]:
    if not (plan.flooded or plan.siphons):
        return
    line = "the flooded line" if plan.flooded else "the line"
    why = (
        ""
        if plan.flooded
        else f" The port of {plan.pump} reaches under the fluid: a line that has once been full empties "
        f"{ledger.reservoir} over the high place as soon as it is opened."
    )
    if plan.isolator and plan.shut_off:
        yield f"Close {plan.isolator} and lock it before {line} is opened anywhere.{why}"
    else:
        lacking = "no valve that a hand reaches on every line" if plan.isolator else "no isolating valve"
        yield (
            f"There is {lacking} between {ledger.reservoir} and {plan.pump}: the line may be opened only "
            f"with the tank drained below {'its nozzle' if plan.flooded else 'the port'}.{why}"
        )


OPENED = ("strainer cleaned", "line changed", "pump changed")
"""Work for which a joint of the line is opened."""


def _refitting(plan: Priming, layout: Layout) -> Iterator[str]:
    """What was opened last and may be why the line is empty; of a flooded line only where it is noted."""
    noted = [
        (each.moment, each.day, work)
        for each in layout.readings
        if each.pump == plan.pump
        for work in each.work
        if work in OPENED
    ]
    if noted:
        _, day, work = max(noted)
        yield (
            f"The reading of {day} notes work: {work}. See that what was opened is fitted again, tight and "
            "its joint sealed, before the line is filled: a loose one draws air and lets the line run empty."
        )
    elif not plan.flooded:
        why = (
            f"{plan.foot_valve} or a joint lets go"
            if plan.foot_valve
            else "it ran empty at rest, as nothing in it keeps it full, or a joint lets air in"
        )
        yield (
            "Where the line was full before, find out why it is empty. After work on a strainer or a joint, "
            "fit it again, tighten it, seal its joint, and note the work in a reading; without any work, "
            f"{why}."
        )


def _filling(plan: Priming, judgement: Judgement, solution: Solution, system: System) -> Iterator[str]:
    volume = typeset(plan.line_volume, Kind.VOLUME, system)
    dry = typeset(plan.dry_volume, Kind.VOLUME, system)
    case = (
        "its case with what it holds (not known here: until it stands at the port)"
        if plan.case_volume is None
        else f"its case with {typeset(plan.case_volume, Kind.VOLUME, system)}"
    )
    if plan.flooded:
        order = f"open {plan.isolator} a little" if plan.isolator else "let the fluid run in slowly"
        yield (
            f"Fill {plan.pump}: {case}. Then {order}, until fluid without bubbles comes at its highest plug; "
            f"the line holds {volume}. Close the plug."
        )
    elif plan.foot_valve:
        yield (
            f"Prove {plan.foot_valve} tight. Fill the line through its highest place, pumps stopped, "
            f"with clean "
            f"fluid of the same kind until it stays full: it holds {volume}, {dry} of it above the "
            f"fluid. Fill "
            f"{plan.pump}: {case}.{_behind(plan)} Close the filling place tight: it stands below the "
            f"atmosphere in service."
        )
    else:
        yield f"Fill {plan.pump} through its port or its highest plug: {case}."
        valve = with_foot_valve(judgement, solution, plan.pump, system)
        read = "" if plan.draws_dry is not None else read_running(solution.layout, plan.pump)
        yield _drawing_dry(plan, dry, valve) if not read else _has_run(plan, dry, valve, read)


def _behind(plan: Priming) -> str:
    """That a line is filled up again once its isolator no longer keeps the fluid from the pump."""
    if not plan.isolator:
        return ""
    return f" Open {plan.isolator}, the drive still locked off, and fill up what runs in behind it."


def _drawing_dry(plan: Priming, dry: str, valve: WithFootValve) -> str:
    """What becomes of a line over the fluid with nothing in it that keeps it full."""
    why = f"{capitalised(plan.draws_dry_why)}."
    if plan.draws_dry:
        return (
            f"The line above the fluid stays empty, {dry}, with nothing to hold it full: {plan.pump} "
            f"draws it "
            f"full. {why}"
        )
    fill, of_valve = "fill the line by hand before every start", f" {valve.words}" if valve.words else ""
    if plan.draws_dry is None:
        why = f"Only its maker knows whether {plan.pump} can prime {dry} of empty line."
        without = "Without the maker's word, "
    else:
        why, without = f"{why} It leaves {dry} empty above the fluid.", ""
    if valve.fits or not valve.words:
        return f"{why} {capitalised(f'{without}fit a foot valve, and {fill}')}.{of_valve}"
    return (
        f"{why} {capitalised(f'{without}do not start {plan.pump} on this line')}: a foot valve would keep it "
        f"full, but none is fitted until the line has the margin for it, in every case.{of_valve}"
    )


def _has_run(plan: Priming, dry: str, valve: WithFootValve, read: str) -> str:
    """What is to be asked of a pump that was read running, so that something fills its line."""
    lacks = "" if valve.fits or not valve.words else ", but none is fitted until the line has the margin"
    return (
        f"Only its maker knows whether {plan.pump} can prime {dry} of empty line. It was read running "
        f"({read}), and how its line was filled for that is not noted: ask who starts it. Until that is "
        "known, and wherever the line has lost its prime, fill it by hand before the start. Where it "
        f"loses it at rest, a foot valve would keep it full{lacks}. {valve.words}".rstrip()
    )


def _venting(pocket: Pocket, plan: Priming, system: System) -> str:
    height = typeset(pocket.z, Kind.LENGTH, system)
    volume = typeset(pocket.volume, Kind.VOLUME, system)
    where = f"The high place in {pocket.part} at {height} holds up to {volume} of air."
    if pocket.below_level:
        return (
            f"{where} With {plan.pump} stopped, open its vent until fluid without bubbles comes, and "
            f"close it. "
            "No vent is opened on a suction line while the pump runs."
        )
    closed = f"{where} It is above the fluid: never open it as a vent"
    if plan.foot_valve:
        return f"{closed}. With the pump stopped, the line is filled there."
    if plan.draws_dry:
        return f"{closed}; {plan.pump} draws that air out as it primes the line."
    dry = (
        "cannot draw that air out itself"
        if plan.draws_dry is False
        else "can draw that air out itself only if its maker says so"
    )
    return (
        f"{closed}. Where a foot valve is fitted and the pump stopped, the line is filled there; "
        f"{plan.pump} {dry}."
    )


def _full(plan: Priming, solution: Solution, drawn: Layout, system: System) -> Iterator[str]:
    """What a gauge at the port shows once the line is full and before anything turns."""
    if not (plan.flooded or plan.foot_valve):
        return
    shown = _at_rest(plan, solution, drawn, system)
    valve_open = f" with {plan.isolator} open" if plan.isolator else ""
    lost = "air is left in the line" if plan.flooded else f"{plan.foot_valve} or a joint lets go"
    yield (
        f"Full and at rest{valve_open}, a gauge at the port of {plan.pump}, at the height of its centre, "
        f"shows {shown}. "
        f"If it does not come there, or does not stay for some minutes, {lost}."
    )


def _starting(plan: Priming, layout: Layout, system: System) -> Iterator[str]:
    pump = layout.pumps[plan.pump]
    lock = f"Open {plan.isolator} all the way, lock it open, and go and look at it. " if plan.isolator else ""
    yield (
        f"Guards back on. Check the direction of rotation. {lock}Free the pump's outlet to the tank "
        f"through a "
        "bleed or test point with a hose. People clear, locks off."
    )
    speed = (
        f" at {typeset(pump.priming_speed.si, Kind.SPEED, system)} or faster, as its maker asks"
        if pump.priming_speed is not None
        else ""
    )
    yield f"Jog the drive{speed}; between jogs look for flow at the bleed, and listen."
    fill = ""
    if plan.shortest_fill is not None and plan.draws_dry is not False and not plan.foot_valve:
        time = typeset(plan.shortest_fill, Kind.TIME, system)
        fill = f"At full flow what is empty takes {time} at the very least. "
    longest = (
        f"No flow after {typeset(pump.priming_time.si, Kind.TIME, system)}, the longest its maker "
        f"allows: stop, "
        "and find out why."
        if pump.priming_time is not None
        else "Only its maker knows how long it may turn without fluid: without that figure, stop "
        "at once "
        "when no flow comes, and find out why."
    )
    also = (
        " A flooded pump can fail to prime as well: a high pocket holds air, or a loaded check valve in the "
        "outlet shuts it in."
        if plan.flooded
        else ""
    )
    yield fill + longest + also


def _running(plan: Priming, judgement: Judgement, solution: Solution, system: System) -> Iterator[str]:
    """What the gauge shows with fluid coming, and from which reading on to stop: as the card has it."""
    ledger, row = solution.pumps[plan.pump], card.row_of(judgement, solution, plan.pump, system)
    mount = mount_of(judgement.layout, Place(plan.pump))
    shift = mount.shift(solution)
    shown = BREAKS if ledger.breaks else gauge_reading(ledger.vacuum + shift, system)
    fitted = "" if is_none(shift, Kind.VACUUM, system) else ", as it is fitted,"
    yield (
        f"With fluid coming, as solved here ({card.state_words(solution, plan.pump, system)}), the gauge at "
        f"the port{fitted} shows {shown}; {allowance(allowed_figure(ledger, system), system)}."
    )
    if row.stop is None:
        yield (
            f"{capitalised(row.note)}."
            if row.over_on_low_day
            else f"There is no reading up to which it may run; {row.note}."
        )
    else:
        yield _stop(row.stop, mount, shift, judgement, system)
        if ledger.vacuum + shift >= row.stop:
            yield "What it shows as solved here is past that: do not start it in this state."
    yield from cold_start.cold_gauge(judgement, solution, plan.pump, mount, system)
    yield from cold_start.other_temperature(judgement.layout, solution, plan.pump, system)


def _stop(stop: float, mount: Mount, shift: float, judgement: Judgement, system: System) -> str:
    """The reading to stop at [Pa], as on the card, and why it is lower than what is allowed."""
    error, at = typeset(mount.gauge.error, Kind.VACUUM, system), reached(stop, system)
    at += "" if is_over_atmosphere(stop, system) else " of vacuum or more"
    noted = mount.gauge.accuracy is not None and mount.gauge.range is not None
    usual = "" if noted else " (a usual one, as its class and range are not noted)"
    height = "" if is_none(shift, Kind.VACUUM, system) else ", its own height taken in"
    return (
        f"Stop at {at}, as the machine's card says: it is what is allowed on a low-pressure day, less the "
        f"{error} that the gauge may be off{usual}{height}. Such a day has "
        f"{card.low_day_words(judgement.layout, system)}."
    )
