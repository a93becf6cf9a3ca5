"""Checks of the reservoirs: their volume, their draw-down, baffle and return, one small function each."""

from __future__ import annotations

from collections.abc import Iterator

from solver.findings.criteria import Case, Hit
from solver.findings.kinds import Severity
from solver.geometry import reservoirs
from solver.layout.parts import Reservoir
from solver.quantities.units import Kind


def reservoir_volume(case: Case) -> Iterator[Hit]:
    """A reservoir too small to let the fluid rest, cool and lose its air."""
    if case.pump.type == "centrifugal":
        return
    tank = case.layout.reservoirs[case.ledger.reservoir]
    flow = sum(p.flow for p in case.solution.pumps.values() if p.reservoir == tank.name)
    normal = tank.normal_level.si
    held, needed = reservoirs.volume(tank, normal), flow * 60 * case.criteria.reservoir_minutes
    if held < needed:
        suction = ""
        if tank.baffle is not None:
            there = case.show(reservoirs.suction_volume(tank, normal), Kind.VOLUME)
            suction = f" ({there} of it on the suction side of the baffle)"
        text = (
            f"{tank.name}: {case.show(held, Kind.VOLUME)} at the normal level{suction}, under "
            f"{case.criteria.reservoir_minutes:g} minutes of flow ({case.show(needed, Kind.VOLUME)})"
        )
        yield Hit(Severity.NOTE, tank.name, "", held, needed, Kind.VOLUME, text)


def intake_drawn_dry(case: Case) -> Iterator[Hit]:
    """An intake that the fluid leaves bare when the cylinders are out."""
    for entry, _, intake in case.intakes:
        tank = case.layout.reservoirs[intake.reservoir]
        z, level = intake.at[1].si, reservoirs.drawn_down(tank)
        if tank.draw_down is not None and z >= level:
            text = (
                f"{intake.name}: at {case.show(z, Kind.LENGTH)}, not under the "
                f"{case.show(level, Kind.LENGTH)} that {_drawn(case, tank)} leaves in {tank.name}"
            )
            yield Hit(Severity.STOP, intake.name, entry.key, z, level, Kind.LENGTH, text)


def drawn_under_the_minimum(case: Case) -> Iterator[Hit]:
    """Cylinders that take more than the reservoir holds between its levels."""
    for tank in _feeding(case):
        level, minimum = reservoirs.drawn_down(tank), tank.minimum_level.si
        if tank.draw_down is not None and level < minimum:
            between = reservoirs.volume_between(tank, minimum, tank.normal_level.si)
            text = (
                f"{tank.name}: {_drawn(case, tank)} leaves the fluid at {case.show(level, Kind.LENGTH)}, "
                f"under the minimum level at {case.show(minimum, Kind.LENGTH)}; "
                f"between the levels are {case.show(between, Kind.VOLUME)}"
            )
            yield Hit(Severity.CAUTION, tank.name, "", level, minimum, Kind.LENGTH, text)


def _drawn(case: Case, tank: Reservoir) -> str:
    volume = tank.draw_down.si if tank.draw_down is not None else 0.0
    return f"a draw-down of {case.show(volume, Kind.VOLUME)}"


def baffle_shuts(case: Case) -> Iterator[Hit]:
    """A baffle that reaches from the floor to the surface."""
    for tank in _feeding(case):
        level = reservoirs.level(tank, case.solution.level)
        if tank.baffle is not None and not reservoirs.passes_under(tank) and tank.baffle.top.si >= level:
            top = tank.baffle.top.si
            behind = reservoirs.volume(tank, level) - reservoirs.suction_volume(tank, level)
            text = (
                f"{tank.name}: its baffle stands on the floor and reaches {case.show(top, Kind.LENGTH)}, "
                f"not under the level at {case.show(level, Kind.LENGTH)}: "
                f"{case.show(behind, Kind.VOLUME)} behind it cannot reach the intake"
            )
            yield Hit(Severity.STOP, tank.name, "", top, level, Kind.LENGTH, text)


def return_beside_intake(case: Case) -> Iterator[Hit]:
    """A return whose fluid need not rest before it is drawn in again."""
    for entry, _, intake in case.intakes:
        tank = case.layout.reservoirs[intake.reservoir]
        if tank.return_at is None:
            continue
        away = abs(intake.at[0].si - tank.return_at[0].si)
        if tank.baffle is None:
            why = "no baffle between them"
        elif (intake.at[0].si < tank.baffle.x.si) == (tank.return_at[0].si < tank.baffle.x.si):
            why = "both on one side of the baffle"
        else:
            continue
        text = f"{intake.name}: {case.show(away, Kind.LENGTH)} from the return to {tank.name}, with {why}"
        yield Hit(Severity.NOTE, intake.name, entry.key, away, float("nan"), Kind.LENGTH, text)


def return_above_fluid(case: Case) -> Iterator[Hit]:
    """A return that ends in the air."""
    for tank in _feeding(case):
        level = reservoirs.level(tank, case.solution.level)
        if tank.return_at is not None and tank.return_at[1].si >= level:
            z = tank.return_at[1].si
            text = (
                f"{tank.name}: the return ends at {case.show(z, Kind.LENGTH)}, "
                f"not under the level at {case.show(level, Kind.LENGTH)}"
            )
            yield Hit(Severity.CAUTION, tank.name, "", z, level, Kind.LENGTH, text)


def _feeding(case: Case) -> Iterator[Reservoir]:
    """The reservoirs from which the pump draws."""
    names = dict.fromkeys(intake.reservoir for _, _, intake in case.intakes)
    return (case.layout.reservoirs[name] for name in names)
