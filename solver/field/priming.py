"""How to fill a pump and its line before it turns: what they hold, where air stays, the order of work."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from solver.field.pockets import Pocket, Station, line_volume, pockets, stations, volume_above
from solver.layout.parts import CHECK_KINDS, VALVE_KINDS, Layout
from solver.ledger.solve import PumpLedger, Solution
from solver.quantities.units import Kind, System, typeset

ASK = "no figure of its maker's: not known, so fill it by hand"


@dataclass(frozen=True)
class Priming:
    """What one pump needs before its first start, at the level that was solved."""

    pump: str
    flooded: bool  # the fluid stands over the whole line and the port
    line_volume: float  # of the runs [m³]
    dry_volume: float  # of it, above the fluid [m³]
    case_volume: float | None  # of the pump [m³]; None: not known
    lift: float  # highest place of the line over the fluid [m]; below zero where all is under it
    pockets: tuple[Pocket, ...]
    foot_valve: str  # the part that keeps the line full; "" where there is none
    isolator: str  # the valve nearest to the tank; "" where there is none
    draws_dry: bool | None  # whether the pump may draw the line full by itself; None: not known
    draws_dry_why: str
    shortest_fill: float | None  # time that full flow takes for what is empty, a lower bound [s]


def priming(solution: Solution, pump: str, system: System) -> Priming:
    """The plan for one pump of a solved drawing, in the units of a system. Raises KeyError for an "
    "unknown pump."""
    layout, ledger = solution.layout, solution.pumps[pump]
    way = stations(solution, pump)
    top = max(station.z for station in way)
    lift = top - ledger.fluid_level
    dry = volume_above(way, ledger.fluid_level)
    may, why = _draws_dry(layout, ledger, lift, system)
    return Priming(
        pump=pump,
        flooded=lift < 0,
        line_volume=line_volume(way),
        dry_volume=dry,
        case_volume=_si(layout, pump),
        lift=lift,
        pockets=pockets(solution, pump),
        foot_valve=_first(layout, way, CHECK_KINDS),
        isolator=_first(layout, way, VALVE_KINDS),
        draws_dry=may,
        draws_dry_why=why,
        shortest_fill=dry / ledger.flow if ledger.flow > 0 and dry > 0 else None,
    )


def steps(plan: Priming, solution: Solution, system: System) -> tuple[str, ...]:
    """The order of work, with the names and figures of the drawing, in the units of a system."""
    return tuple(_steps(plan, solution.layout, solution.pumps[plan.pump], system))


def _si(layout: Layout, pump: str) -> float | None:
    volume = layout.pumps[pump].case_volume
    return None if volume is None else volume.si


def _first(layout: Layout, way: tuple[Station, ...], kinds: tuple[str, ...]) -> str:
    for station in way:
        part = layout.fittings.get(station.part) or layout.intakes.get(station.part)
        if part is not None and part.kind in kinds:
            return station.part
    return ""


def _draws_dry(layout: Layout, ledger: PumpLedger, lift: float, system: System) -> tuple[bool | None, str]:
    """Whether a pump may draw its empty line full, by its maker's figure alone."""
    if lift < 0:
        return True, "the fluid runs in by itself"
    stated = layout.pumps[ledger.pump].dry_lift
    if stated is None:
        return None, ASK
    lift_text = typeset(lift, Kind.LENGTH, system)
    allowed = typeset(stated.si, Kind.LENGTH, system)
    if lift <= stated.si:
        return True, (f"the line rises {lift_text} above the fluid, and its maker lets it draw {allowed} dry")
    return (
        False,
        f"the line rises {lift_text} above the fluid, "
        f"more than the {allowed} that its maker lets it draw dry",
    )


def _steps(plan: Priming, layout: Layout, ledger: PumpLedger, system: System) -> Iterator[str]:
    """The order of work, with the names and figures of the drawing."""
    yield (
        "Lower or prop the load. Stop the drive, lock it off and tag it. Discharge accumulators, and "
        "prove zero "
        "pressure on a gauge."
    )
    if plan.flooded and plan.isolator:
        yield f"Close {plan.isolator} and lock it before the flooded line is opened anywhere."
    elif plan.flooded:
        yield (
            f"There is no isolating valve between {ledger.reservoir} and {plan.pump}: the line may be "
            f"opened only "
            "with the tank drained below its nozzle."
        )
    yield (
        f"See that the fluid in {ledger.reservoir} stands at "
        f"{typeset(ledger.fluid_level, Kind.LENGTH, system)} or higher."
    )
    yield from _filling(plan, ledger, system)
    for pocket in plan.pockets:
        yield _venting(pocket, plan, system)
    yield from _starting(plan, layout, system)


def _filling(plan: Priming, ledger: PumpLedger, system: System) -> Iterator[str]:
    volume = typeset(plan.line_volume, Kind.VOLUME, system)
    case = (
        "its case with what it holds (not known here: until it stands at the port)"
        if plan.case_volume is None
        else f"its case with {typeset(plan.case_volume, Kind.VOLUME, system)}"
    )
    if plan.flooded:
        order = f"open {plan.isolator} a little" if plan.isolator else "let the fluid run in slowly"
        yield (
            f"Fill {plan.pump}: {case}. Then {order}, until fluid without bubbles comes at its highest "
            f"plug; the "
            f"line holds {volume}. Close the plug."
        )
        return
    dry = typeset(plan.dry_volume, Kind.VOLUME, system)
    if plan.foot_valve:
        yield (
            f"Prove {plan.foot_valve} tight. Fill the line through its highest place, pumps stopped, "
            f"with clean "
            f"fluid of the same kind until it stays full: it holds {volume}, {dry} of it above the "
            f"fluid. Fill "
            f"{plan.pump}: {case}. Close the filling place tight: it stands below the atmosphere in service."
        )
        return
    yield f"Fill {plan.pump} through its port or its highest plug: {case}."
    if plan.draws_dry:
        yield (
            f"The line above the fluid stays empty, {dry}, with nothing to hold it full: {plan.pump} "
            f"draws it full. "
            f"{_sentence(plan.draws_dry_why)}"
        )
    elif plan.draws_dry is None:
        yield (
            f"Whether {plan.pump} may draw {dry} of empty line full is known to its maker alone. "
            f"Without his word, "
            "fit a foot valve, and fill the line by hand before every start."
        )
    else:
        yield (
            f"{_sentence(plan.draws_dry_why)} Fit a foot valve, and fill the line by hand: {dry} above "
            f"the fluid."
        )


def _venting(pocket: Pocket, plan: Priming, system: System) -> str:
    height = typeset(pocket.z, Kind.LENGTH, system)
    volume = typeset(pocket.volume, Kind.VOLUME, system)
    where = f"The high place in {pocket.part} at {height} holds up to {volume} of air."
    if pocket.below_level:
        return (
            f"{where} With {plan.pump} stopped, open its vent until fluid without bubbles comes, and "
            f"close it. No "
            "vent is opened on a suction line while the pump runs."
        )
    if plan.foot_valve:
        return f"{where} It is above the fluid: never open it as a vent; the line is filled through it."
    return (
        f"{where} It is above the fluid: never open it as a vent. Without a foot valve it must be drawn "
        f"out dry."
    )


def _starting(plan: Priming, layout: Layout, system: System) -> Iterator[str]:
    pump = layout.pumps[plan.pump]
    lock = f"Open {plan.isolator} all the way, lock it open, and go and look at it. " if plan.isolator else ""
    yield (
        f"Guards back on. {lock}Free the pump's outlet to the tank through a bleed or test point with a "
        f"hose. Check "
        "the direction of rotation. People clear, locks off."
    )
    speed = (
        f" at {typeset(pump.priming_speed.si, Kind.SPEED, system)} or faster, as its maker asks"
        if pump.priming_speed is not None
        else ""
    )
    yield f"Jog the drive{speed}; between jogs look for flow at the bleed, and listen."
    fill = (
        f"At full flow what is empty takes {plan.shortest_fill:.1f} s at the very least. "
        if plan.shortest_fill is not None
        else ""
    )
    longest = (
        f"No flow after {typeset(pump.priming_time.si, Kind.TIME, system)}, the longest its maker allows: "
        f"stop, and find "
        "out why."
        if pump.priming_time is not None
        else "How long it may turn without fluid is known to its maker alone: without his figure, stop "
        "at once when no "
        "flow comes, and find out why."
    )
    yield fill + longest


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}."
