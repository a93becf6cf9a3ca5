"""Where air can come into a pump's line: joints below the atmosphere, the fluid itself, vortex and return."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from solver.findings.criteria import place_in_words
from solver.findings.kinds import Severity
from solver.findings.line import least_cover
from solver.findings.pump import free_air_at
from solver.geometry import reservoirs
from solver.layout.kinds import PERHAPS_BENT
from solver.layout.parts import Intake, Layout, Reservoir
from solver.ledger.joints import OuterJoint, joints
from solver.ledger.solve import EQUAL, PumpLedger, Solution
from solver.network.rows import RowKind
from solver.quantities.units import Kind, System, typeset, with_minus


@dataclass(frozen=True, slots=True)
class Cover:
    """What stands over one intake."""

    intake: str
    depth: float  # of fluid over it at the level that was solved [m]; below zero where it is bare
    drawn_depth: float | None  # with the cylinders out [m]; None: the drawing does not say what they take
    needed: float  # which keeps a vortex away [m]
    screened: bool  # a screen spreads the flow, which helps


@dataclass(frozen=True, slots=True)
class Return:
    """Where the return of one reservoir ends."""

    reservoir: str
    depth: float | None  # under the level that was solved [m]; below zero in the air; None: not drawn
    drawn_depth: float | None  # with the cylinders out [m]; None: not known


@dataclass(frozen=True, slots=True)
class Air:
    """Where air can come from, for one pump in the state that was solved."""

    pump: str
    joints: tuple[OuterJoint, ...]  # those below the atmosphere, the lowest pressure first
    vacuum: float  # at the port [Pa]
    lowest: float  # least static pressure anywhere on the way [Pa]
    lowest_at: str  # where that is, in words
    atmosphere: float  # [Pa]
    vapor_pressure: float  # of the fluid, at which its column breaks [Pa]
    free_air: float | None  # largest share of the volume at the port; None: not known, or the fluid boils
    covers: tuple[Cover, ...]
    returns: tuple[Return, ...]


@dataclass(frozen=True, slots=True)
class AirNote:
    """One sentence, and how serious it is; None where all is well."""

    text: str
    severity: Severity | None = None


def air(solution: Solution, pump: str) -> Air:
    """Where air can come from in a solved state. Raises KeyError for a pump that does not run."""
    ledger = solution.pumps[pump]
    low = [joint for joint in joints(solution, pump) if joint.pressure < ledger.atmosphere]
    intakes = _intakes(solution, ledger)
    tanks = dict.fromkeys(intake.reservoir for intake, _, _ in intakes)
    return Air(
        pump=pump,
        joints=tuple(sorted(low, key=lambda joint: joint.pressure)),
        vacuum=ledger.vacuum,
        lowest=ledger.lowest,
        lowest_at=_where(solution, ledger),
        atmosphere=ledger.atmosphere,
        vapor_pressure=ledger.vapor_pressure,
        free_air=_free_air(solution, ledger),
        covers=tuple(_cover(solution, *each) for each in intakes),
        returns=tuple(_return(solution, solution.layout.reservoirs[name]) for name in tanks),
    )


def _where(solution: Solution, ledger: PumpLedger) -> str:
    lowest = next(entry for entry in ledger.entries if entry.key == ledger.lowest_at)
    return place_in_words(solution.layout, lowest)


def _free_air(solution: Solution, ledger: PumpLedger) -> float | None:
    if "dissolved_air" in solution.fluid.unknown:
        return None
    return free_air_at(solution, ledger.surface, ledger.inlet)


def _intakes(solution: Solution, ledger: PumpLedger) -> list[tuple[Intake, float, float]]:
    """The intakes that feed a pump, each with the bore [m] and the velocity [m/s] of its entrance."""
    rows, index = solution.network.rows, solution.network.index
    return [
        (solution.layout.intakes[entry.part], entry.bore, entry.velocity)
        for entry in (*ledger.entries, *ledger.parallel_entries)
        if entry.key in index and rows[index[entry.key]].kind == RowKind.ENTRANCE
    ]


def _cover(solution: Solution, intake: Intake, bore: float, velocity: float) -> Cover:
    tank = solution.layout.reservoirs[intake.reservoir]
    z = intake.at[1].si
    return Cover(
        intake.name,
        reservoirs.level(tank, solution.level) - z,
        None if tank.draw_down is None else reservoirs.drawn_down(tank) - z,
        least_cover(intake, bore, velocity),
        intake.screen is not None,
    )


def _return(solution: Solution, tank: Reservoir) -> Return:
    if tank.return_at is None:
        return Return(tank.name, None, None)
    z = tank.return_at[1].si
    drawn = None if tank.draw_down is None else reservoirs.drawn_down(tank) - z
    return Return(tank.name, reservoirs.level(tank, solution.level) - z, drawn)


def air_notes(air: Air, layout: Layout, system: System) -> tuple[AirNote, ...]:
    """What is to be known of the fluid's own air, of vortex and return, in the units of a system."""
    return (
        *_of_lowest(air, system),
        _of_free_air(air),
        *(remark for cover in air.covers for remark in _of_cover(cover, layout, system)),
        *(remark for each in air.returns for remark in _of_return(each, system)),
    )


def joint_text(joint: OuterJoint, air: Air, system: System) -> str:
    """One joint in words: between what, and how far below the atmosphere."""
    return f"{joint.name}: {_below(joint.pressure, air, system)}"


def _below(pressure: float, air: Air, system: System) -> str:
    """How far a static pressure is below the atmosphere, where fluid can have it."""
    if pressure <= air.vapor_pressure:
        return "the column breaks"
    return f"{typeset(air.atmosphere - pressure, Kind.VACUUM, system)} below the atmosphere"


def seal_text(air: Air, system: System) -> str:
    """The shaft seal, which is no joint of the drawing; "" where the port is not below the atmosphere.

    A seal that is drained to the inlet stands under its pressure, and what it draws in enters behind a gauge
    at the port.
    """
    if air.vacuum <= 0.0:
        return ""
    below = _below(air.atmosphere - air.vacuum, air, system)
    return (
        f"shaft seal of {air.pump}, if it is drained to the inlet: {below}; "
        "air enters behind the gauge, which does not show it"
    )


def _of_lowest(air: Air, system: System) -> Iterator[AirNote]:
    """Where the pressure is least, if at no joint and not at the port, and which joints no drawing shows."""
    vacuum = air.atmosphere - air.lowest
    listed = min([air.atmosphere - air.vacuum, *(joint.pressure for joint in air.joints)])
    if vacuum > 0.0 and air.lowest < listed - EQUAL:
        below = _below(air.lowest, air, system)
        text = f"The lowest pressure is at {air.lowest_at}, {below}: what leaks there "
        yield AirNote(text + "draws air before any joint listed here.", Severity.NOTE)
    if any(kind in PERHAPS_BENT for joint in air.joints for kind in joint.bend_kinds):
        yield AirNote(
            "Bends without a radius of their own are taken as fittings, joined at either end; one that the "
            "pipe itself is bent to has no joints.",
            Severity.NOTE,
        )
    if vacuum > 0.0:
        yield AirNote("Couplings inside a run, test points and drains are joints as well.")


def _of_free_air(air: Air) -> AirNote:
    if air.free_air is None and air.atmosphere - air.vacuum <= air.vapor_pressure:
        return AirNote("At the port the column breaks: free air there is not worked out.", Severity.NOTE)
    if air.free_air is None:
        return AirNote(
            "The fluid's dissolved air is not known: free air at the port is not judged.", Severity.NOTE
        )
    if air.free_air <= 0.0:
        return AirNote("At the port the pressure is not under that on the fluid: no dissolved air comes out.")
    share = with_minus(f"{air.free_air:.1%}").replace("%", " %")
    return AirNote(
        f"Dissolved air: up to {share} of the volume at the port, if all the excess came out (an upper "
        f"bound). "
        "Foam alone therefore proves no leak.",
        Severity.NOTE,
    )


def _of_cover(cover: Cover, layout: Layout, system: System) -> Iterator[AirNote]:
    needed = typeset(cover.needed, Kind.LENGTH, system)
    yield _covered(cover, cover.depth, f"at this level; {needed} keeps a vortex away", system)
    tank = layout.intakes[cover.intake].reservoir
    if cover.drawn_depth is None:
        text = f"{tank}: the drawing does not say what the cylinders take out, so the cover of {cover.intake}"
        yield AirNote(f"{text} with the cylinders out is not known.", Severity.NOTE)
    else:
        yield _covered(cover, cover.drawn_depth, "with the cylinders out", system)


def _covered(cover: Cover, depth: float, when: str, system: System) -> AirNote:
    if depth <= 0.0:
        return AirNote(f"{cover.intake}: bare {when}: it draws air.", Severity.STOP)
    text = f"{cover.intake}: {typeset(depth, Kind.LENGTH, system)} of fluid over it {when}"
    if depth >= cover.needed:
        return AirNote(f"{text}.")
    helped = "; its screen spreads the flow, which helps" if cover.screened else ""
    severity = Severity.NOTE if cover.screened else Severity.CAUTION
    return AirNote(f"{text}: a vortex may draw air{helped}.", severity)


def _of_return(each: Return, system: System) -> Iterator[AirNote]:
    if each.depth is None:
        text = f"{each.reservoir}: where its return ends is not in the drawing"
        yield AirNote(f"{text}: see that it ends under the fluid.", Severity.NOTE)
        return
    lowest = each.depth if each.drawn_depth is None else min(each.depth, each.drawn_depth)
    if lowest <= 0.0:
        when = "" if each.depth <= 0.0 else " with the cylinders out"
        yield AirNote(
            f"{each.reservoir}: its return ends in the air{when} and carries air down.", Severity.CAUTION
        )
        return
    text = f"{each.reservoir}: its return ends {typeset(lowest, Kind.LENGTH, system)} under the fluid"
    if each.drawn_depth is None:
        yield AirNote(f"{text} at this level; with the cylinders out it is not known.", Severity.NOTE)
    else:
        yield AirNote(f"{text} at the lowest.")
