"""Changes of what runs through the line and of what stands on it: speed, fluid, temperature, pressure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from solver.answers import inputs
from solver.fixes.candidate import Candidate, Edited, FixKind, new, rewritten
from solver.layout.parts import Layout, Level, Pump
from solver.ledger.solve import PumpLedger
from solver.properties.families import catalogue
from solver.quantities.units import Kind, System, said

SLOWEST = 0.6
"""Share of today's speed below which the job is another one."""

BOILING_COUNTS = 2000.0
"""Vapour pressure from which cooling is worth a thought [Pa]."""

COOLEST = 20.0
"""Kelvin by which a cooler is reckoned to take a fluid down."""

MOST_PRESSURE = 35e3
"""Gauge pressure beyond which a tank is a pressure vessel [Pa]; common practice, no source."""


def candidates(layout: Layout, ledger: PumpLedger) -> Iterator[Candidate]:
    """Changes of conditions for one pump."""
    yield from _slower(layout, layout.pumps[ledger.pump], ledger)
    yield from _other_fluid(layout)
    yield from _cooler(layout, ledger)
    yield from _pressed(layout, ledger)


def _slower(layout: Layout, pump: Pump, ledger: PumpLedger) -> Iterator[Candidate]:
    by_speed = pump.speed is not None
    now = pump.speed.si if pump.speed is not None else ledger.flow
    kind = Kind.SPEED if by_speed else Kind.FLOW
    put = inputs.speed if by_speed else inputs.flow

    def edit(edited: Edited, value: float) -> Edited:
        return edited.with_layout(put(edited.layout, (pump.name,), value, Level.MINIMUM))

    def say(value: float, system: System) -> str:
        verb = "turn" if by_speed else "run"
        return f"{verb} {pump.name} at {said(value, kind, system)}"

    yield Candidate(
        FixKind.SPEED,
        pump.name,
        edit,
        say,
        "less flow in proportion, or a larger pump turning slower",
        now=now,
        most=now * SLOWEST,
        step=10 / 60 if by_speed else now / 100,
        usual=now * 0.8,
        enough_unit=kind,
    )


def _other_fluid(layout: Layout) -> Iterator[Candidate]:
    choice = layout.fluid
    known = catalogue()
    if choice.name not in known or choice.viscosity is not None or choice.viscosity_index is not None:
        return
    family, _, grade = choice.name.rpartition(" VG ")
    if not grade.isdigit():
        return
    same = [name for name in known if name.startswith(family + " VG ")]
    thinner = sorted((n for n in same if int(n.rpartition(" ")[2]) < int(grade)), key=_grade, reverse=True)
    higher = [name for name in known if name.startswith("High-VI oil") and name.endswith(f" VG {grade}")]
    if choice.name in higher or not family.startswith("Mineral oil"):
        higher = []
    if thinner:
        yield _fluid(
            tuple(thinner[:2]), "a change of fluid; see that it stays thick enough where it runs hottest"
        )
    if higher:
        yield _fluid(tuple(higher), "a change of fluid; the pump maker's consent to it")


def _grade(name: str) -> int:
    return int(name.rpartition(" ")[2])


def _fluid(names: tuple[str, ...], cost: str) -> Candidate:
    def edit(edited: Edited, size: float) -> Edited:
        fluid = replace(edited.layout.fluid, name=names[round(size)])
        return edited.with_layout(replace(edited.layout, fluid=fluid))

    def say(size: float, system: System) -> str:
        return f"fill in {names[round(size)]}"

    return Candidate(FixKind.FLUID, "", edit, say, cost, sizes=tuple(float(i) for i in range(len(names))))


def _cooler(layout: Layout, ledger: PumpLedger) -> Iterator[Candidate]:
    if ledger.vapor_pressure < BOILING_COUNTS or layout.fluid.has_one_viscosity:
        return
    now = layout.fluid.temperature.si

    def edit(edited: Edited, value: float) -> Edited:
        cooled = rewritten(edited.layout.fluid.temperature, value, Kind.TEMPERATURE)
        return edited.with_layout(
            replace(edited.layout, fluid=replace(edited.layout.fluid, temperature=cooled))
        )

    def say(value: float, system: System) -> str:
        return f"cool the fluid to {said(value, Kind.TEMPERATURE, system)}"

    yield Candidate(
        FixKind.TEMPERATURE,
        "",
        edit,
        say,
        "a cooler, or less heat put in",
        now=now,
        most=now - COOLEST,
        step=1.0,
        usual=now - 10.0,
        enough_unit=Kind.TEMPERATURE,
    )


def _pressed(layout: Layout, ledger: PumpLedger) -> Iterator[Candidate]:
    tank = layout.reservoirs[ledger.reservoir]
    if tank.breather_drop is not None and tank.breather_drop.si > 0:
        yield _unblocked(tank.name)
    if tank.sealed or tank.breather_drop is not None:
        return
    now = tank.pressure.si if tank.pressure is not None else 0.0
    if now >= MOST_PRESSURE:
        return

    def edit(edited: Edited, value: float) -> Edited:
        reservoirs = edited.layout.reservoirs
        pressed = replace(reservoirs[tank.name], pressure=new(value, Kind.PRESSURE, edited.layout))
        return edited.with_layout(replace(edited.layout, reservoirs={**reservoirs, tank.name: pressed}))

    def say(value: float, system: System) -> str:
        return f"hold {said(value, Kind.PRESSURE, system)} on the fluid in {tank.name}"

    yield Candidate(
        FixKind.PRESSURE,
        tank.name,
        edit,
        say,
        "a tank built and rated for it, with a regulator and a relief valve: ask its maker",
        now=now,
        most=MOST_PRESSURE,
        step=1000.0,
        usual=now + 7000.0,
        enough_unit=Kind.PRESSURE,
    )


def _unblocked(tank: str) -> Candidate:
    def edit(edited: Edited, _: float) -> Edited:
        reservoirs = edited.layout.reservoirs
        freed = replace(reservoirs[tank], breather_drop=None)
        return edited.with_layout(replace(edited.layout, reservoirs={**reservoirs, tank: freed}))

    def say(_: float, system: System) -> str:
        return f"fit a breather to {tank} that takes nothing while the level falls"

    return Candidate(FixKind.PRESSURE, tank, edit, say, "a larger or a new breather", sizes=(1.0,))
