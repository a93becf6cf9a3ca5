"""Checks of the reservoirs: their volume, their draw-down, baffle and return, one small function each."""

from __future__ import annotations

from collections.abc import Iterator

from solver.findings.criteria import Hit, Subject
from solver.findings.kinds import Severity
from solver.findings.line import edge, mouth_top
from solver.geometry import reservoirs
from solver.layout.kinds import PumpType
from solver.layout.parts import Reservoir
from solver.layout.shapes import made_once
from solver.quantities.units import Kind


@made_once
def _volume(tank: Reservoir) -> float:
    """What a reservoir holds at its normal level [m³], in every case of a drawing."""
    return reservoirs.volume(tank, tank.normal_level.si)


def reservoir_volume(subject: Subject) -> Iterator[Hit]:
    """A reservoir too small to let the fluid rest, cool and lose its air."""
    if subject.pump.type == PumpType.CENTRIFUGAL:
        return
    tank = subject.layout.reservoirs[subject.ledger.reservoir]
    flow = subject.drawn[tank.name]
    normal = tank.normal_level.si
    held, needed = _volume(tank), flow * 60 * subject.criteria.reservoir_minutes
    if held < needed:
        suction = ""
        if tank.baffle is not None:
            usable = subject.show(reservoirs.suction_volume(tank, normal), Kind.VOLUME)
            suction = f" ({usable} of it on the suction side of the baffle)"
        text = (
            f"{tank.name}: {subject.show(held, Kind.VOLUME)} at the normal level{suction}, under "
            f"{subject.criteria.reservoir_minutes:g} minutes of flow ({subject.show(needed, Kind.VOLUME)})"
        )
        whole, more = (subject.show(each, Kind.VOLUME) for each in (needed, needed - held))
        advice = (
            f"Take a reservoir that holds {whole} at its normal level, {more} more than now; without "
            "room for it, a baffle between return and intake, or a cooler."
        )
        yield Hit(Severity.NOTE, tank.name, "", held, needed, Kind.VOLUME, text, advice)


def intake_drawn_dry(subject: Subject) -> Iterator[Hit]:
    """An intake that the fluid leaves bare when the cylinders are out."""
    for entry, _, intake in subject.intakes:
        tank = subject.layout.reservoirs[intake.reservoir]
        if tank.draw_down is None:
            continue
        z, level = mouth_top(intake), reservoirs.drawn_down(tank)
        if z >= level:
            text = (
                f"{intake.name}: {edge(intake)}at {subject.show(z, Kind.LENGTH)}, not under the "
                f"{subject.show(level, Kind.LENGTH)} that {_drawn(subject, tank)} leaves in {tank.name}"
            )
            yield Hit(Severity.STOP, intake.name, entry.key, z, level, Kind.LENGTH, text)


def drawn_under_the_minimum(subject: Subject) -> Iterator[Hit]:
    """Cylinders that take more than the reservoir holds between its levels."""
    for tank in _feeding(subject):
        if tank.draw_down is None:
            continue
        level, minimum = reservoirs.drawn_down(tank), tank.minimum_level.si
        if level < minimum:
            between = reservoirs.volume_drawn(tank, minimum)
            text = (
                f"{tank.name}: {_drawn(subject, tank)} leaves the fluid at "
                f"{subject.show(level, Kind.LENGTH)}, under the minimum level at "
                f"{subject.show(minimum, Kind.LENGTH)}; "
                f"between the levels are {subject.show(between, Kind.VOLUME)}"
            )
            more = subject.show(max(tank.draw_down.si - between, 0.0), Kind.VOLUME)
            advice = (
                f"Find room for {more} more between the levels, or lower the minimum level to "
                f"{subject.show(level, Kind.LENGTH)} and look at the ledger there."
            )
            yield Hit(Severity.CAUTION, tank.name, "", level, minimum, Kind.LENGTH, text, advice)


def _drawn(subject: Subject, tank: Reservoir) -> str:
    volume = tank.draw_down.si if tank.draw_down is not None else 0.0
    return f"a draw-down of {subject.show(volume, Kind.VOLUME)}"


def baffle_shuts(subject: Subject) -> Iterator[Hit]:
    """A baffle that reaches from the floor to the surface."""
    for tank in _feeding(subject):
        level = reservoirs.level(tank, subject.solution.level)
        if tank.baffle is not None and not reservoirs.passes_under(tank) and tank.baffle.top.si >= level:
            top = tank.baffle.top.si
            behind = reservoirs.volume(tank, level) - reservoirs.suction_volume(tank, level)
            text = (
                f"{tank.name}: its baffle stands on the floor and reaches {subject.show(top, Kind.LENGTH)}, "
                f"not under the level at {subject.show(level, Kind.LENGTH)}: "
                f"{subject.show(behind, Kind.VOLUME)} behind it cannot reach the intake"
            )
            yield Hit(Severity.STOP, tank.name, "", top, level, Kind.LENGTH, text)


def return_beside_intake(subject: Subject) -> Iterator[Hit]:
    """A return whose fluid need not rest before it is drawn in again."""
    for entry, _, intake in subject.intakes:
        tank = subject.layout.reservoirs[intake.reservoir]
        if tank.return_at is None:
            continue
        away = abs(intake.at[0].si - tank.return_at[0].si)
        if tank.baffle is None:
            why = "no baffle between them"
        elif (intake.at[0].si < tank.baffle.x.si) == (tank.return_at[0].si < tank.baffle.x.si):
            why = "both on one side of the baffle"
        else:
            continue
        text = f"{intake.name}: {subject.show(away, Kind.LENGTH)} from the return to {tank.name}, with {why}"
        yield Hit(Severity.NOTE, intake.name, entry.key, away, None, Kind.LENGTH, text)


def return_above_fluid(subject: Subject) -> Iterator[Hit]:
    """A return that ends in the air."""
    for tank in _feeding(subject):
        level = reservoirs.level(tank, subject.solution.level)
        if tank.return_at is not None and tank.return_at[1].si >= level:
            z = tank.return_at[1].si
            text = (
                f"{tank.name}: the return ends at {subject.show(z, Kind.LENGTH)}, "
                f"not under the level at {subject.show(level, Kind.LENGTH)}"
            )
            yield Hit(Severity.CAUTION, tank.name, "", z, level, Kind.LENGTH, text)


def _feeding(subject: Subject) -> Iterator[Reservoir]:
    """The reservoirs from which the pump draws."""
    names = dict.fromkeys(intake.reservoir for _, _, intake in subject.intakes)
    return (subject.layout.reservoirs[name] for name in names)
