"""What a pump and its line need before they turn: what they hold, where air stays, who draws it out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from solver.field.pockets import Pocket, Station, beside, line_volume, pockets, stations, volume_above
from solver.findings.isolating import flooding
from solver.layout.kinds import CHECK_KINDS, VALVE_KINDS
from solver.layout.parts import Layout
from solver.ledger.dry_lift import dry_lift, held_full, too_slow
from solver.ledger.solve import PumpLedger, Solution, solve
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import Kind, System, typeset

ASK = "not known: its maker states no figure, so fill the line by hand"


@dataclass(frozen=True)
class Priming:
    """What one pump needs before its first start, at the level that was solved."""

    pump: str
    flooded: bool  # the fluid stands over the top of the bore, all along the line and at the port
    siphons: bool  # the line is not flooded, its port reaches under the fluid: once full it runs by itself
    pressed: bool  # its reservoir stands above the atmosphere
    line_volume: float  # of the runs, those in parallel with the way as well [m³]
    dry_volume: float  # of it, above the fluid [m³]
    case_volume: float | None  # of the pump [m³]; None: not known
    lift: float  # the most that the top of a bore is over the fluid of its line [m]; below zero: all under it
    pockets: tuple[Pocket, ...]
    foot_valve: str  # the part that keeps the line full; "" where there is none
    sharing: tuple[str, ...]  # other pumps that draw through a part of its line
    isolator: str  # the valve nearest to the tank; "" where there is none
    shut_off: bool  # whether valves that a hand reaches shut off every line with fluid over the port
    draws_dry: bool | None  # whether the pump may draw the line full by itself; None: not known
    draws_dry_why: str
    shortest_fill: float | None  # time that full flow takes for what is empty, a lower bound [s]


def priming(solution: Solution, pump: str, system: System) -> Priming:
    """The plan for one pump of a solved drawing, in the units of a system.

    Raises KeyError for a pump that does not run.
    """
    layout, ledger = solution.layout, solution.pumps[pump]
    way = stations(solution, pump)
    lines = [(way, ledger.fluid_level), *((each.line, each.level) for each in beside(solution, pump))]
    lift = max(station.crown - level for line, level in lines for station in line)
    port = way[-1]
    under = port.z - (port.crown - port.z) < ledger.fluid_level
    dry = sum(volume_above(line, level) for line, level in lines)
    fill = dry / ledger.flow if ledger.flow > 0 and dry > 0 else None
    may, why = _draws_dry(solution, ledger, lift, fill, system)
    return Priming(
        pump=pump,
        flooded=lift < 0,
        siphons=lift >= 0 and under,
        pressed=ledger.surface > ledger.atmosphere,
        line_volume=sum(line_volume(line) for line, _ in lines),
        dry_volume=dry,
        case_volume=_si(layout, pump),
        lift=lift,
        pockets=pockets(solution, pump),
        foot_valve=_first(layout, way, CHECK_KINDS) if held_full(layout, pump) else "",
        sharing=tuple(_sharing(layout, pump)),
        isolator=_first(layout, way, VALVE_KINDS),
        shut_off=all(each.shut_by_hand for each in flooding(layout, pump, solution.network.joined)),
        draws_dry=may,
        draws_dry_why=why,
        shortest_fill=fill,
    )


def _sharing(layout: Layout, pump: str) -> Iterator[str]:
    """The other pumps that its line leads to, running or not; none through a tank."""
    reached, ahead = {pump}, [pump]
    while ahead:
        part = ahead.pop()
        if part in layout.intakes:
            continue
        ends = [(run.start, run.end) for run in layout.runs.values() if part in (run.start, run.end)]
        new = {end for pair in ends for end in pair} - reached
        reached |= new
        ahead += new
    yield from (name for name in layout.pumps if name in reached and name != pump)


def _si(layout: Layout, pump: str) -> float | None:
    volume = layout.pumps[pump].case_volume
    return None if volume is None else volume.si


def _first(layout: Layout, way: tuple[Station, ...], kinds: tuple[str, ...]) -> str:
    for station in way:
        part = layout.fittings.get(station.part) or layout.intakes.get(station.part)
        if part is not None and part.kind in kinds:
            return station.part
    return ""


def _draws_dry(
    solution: Solution, ledger: PumpLedger, lift: float, fill: float | None, system: System
) -> tuple[bool | None, str]:
    """Whether a pump may draw its empty line full, by its maker's figures alone, at its site.

    Parameters: `lift` of the top of the line over the fluid [m]; `fill`, the shortest time that it
    takes [s].
    """
    if lift < 0:
        return True, "the fluid runs in by itself"
    pump = solution.layout.pumps[ledger.pump]
    stated, longest = pump.dry_lift, pump.priming_time
    if pump.priming_speed is not None and too_slow(solution, ledger):
        least = typeset(pump.priming_speed.si, Kind.SPEED, system)
        return False, f"it turns slower than the {least} from which on it primes, as its maker says"
    if longest is not None and fill is not None and fill > longest.si:
        allowed = typeset(longest.si, Kind.TIME, system)
        return (
            False,
            f"to draw the line full takes {typeset(fill, Kind.TIME, system)} even at full flow, longer than "
            f"the {allowed} that its maker lets it turn without fluid",
        )
    highest = dry_lift(solution, ledger)
    if stated is None or highest is None:
        return None, ASK
    lift_text = typeset(lift, Kind.LENGTH, system)
    allowed = typeset(stated.si, Kind.LENGTH, system)
    if highest < stated.si:
        left = typeset(highest, Kind.LENGTH, system)
        allowed = f"{left} that its site and fluid leave of the {allowed}"
    if lift <= highest:
        return (
            True,
            f"the top of the line rises {lift_text} above the fluid, within the {allowed} up to which its "
            "maker lets it prime an empty line",
        )
    return (
        False,
        f"the top of the line rises {lift_text} above the fluid, more than the {allowed} up to which its "
        "maker lets it prime an empty line",
    )


def with_fluid_of(solution: Solution, drawn: Layout) -> Solution:
    """A case with the fluid of the drawing itself, which the card for the machine has at rest; the case as it
    is where that cannot be solved."""
    try:
        return solve(replace(solution.layout, fluid=drawn.fluid), solution.level)
    except (NetworkError, FluidError):
        return solution
