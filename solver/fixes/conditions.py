"""Changes of what runs through the line and of what stands on it: speed, fluid, temperature, pressure."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

from solver.answers import inputs
from solver.fixes.candidate import Candidate, FixKind, new, rewritten, with_case_figure
from solver.fixes.judging import Judged
from solver.layout.cases import AS_DRAWN, cases_of
from solver.layout.parts import CYLINDERS, SHORT_CASE, Layout, Level, Pump
from solver.ledger.solve import PumpLedger
from solver.properties.families import catalogue
from solver.quantities.units import Kind, Quantity, System, typeset

SLOWEST = 0.6
"""Share of today's speed below which the job is another one."""

BOILING_COUNTS = 2000.0
"""Vapour pressure from which cooling is worth a thought [Pa]."""

COOLEST, WARMEST = 20.0, 40.0
"""Kelvin by which a cooler takes a fluid down, and a heater up, at most; ours."""

HOT_START = 313.15
"""Temperature above which heating before a start is a last resort, 40 °C [K]; common practice, no source."""

ONLY_HEATED = "Only with a tank heated far beyond what is usual before a start"
ONLY_PRESSED = "Only with a tank built for it"

TEMPERATURE = ("fluid", "temperature")

Put = Callable[[Layout, float], Layout]
Describe = Callable[[float, System], str]

MOST_PRESSURE = 35e3
"""Gauge pressure beyond which a tank is a pressure vessel [Pa]; common practice, no source."""


def candidates(layout: Layout, now: Judged) -> Iterator[Candidate]:
    """Changes of conditions for one pump, above all in the case that decides; but for the fluid."""
    yield from slower(layout, now)
    yield from temperatures(layout, now)
    yield from _pressed(layout, now.ledger)


def slower(layout: Layout, now: Judged) -> Iterator[Candidate]:
    """The pump slower, or another that draws through the same line."""
    yield from _slower(layout, layout.pumps[now.ledger.pump], now.ledger)
    for other in now.solution.pumps.values():
        if other.pump != now.pump and _shared(now.ledger, other):
            yield from _slower(layout, layout.pumps[other.pump], other)


def more_cylinders(layout: Layout, pump: str) -> Iterator[Candidate]:
    """A pump of more cylinders, whose strokes follow each other more closely."""
    now = layout.pumps[pump].cylinders
    more = tuple(float(number) for number in CYLINDERS if now is not None and number > now)
    if not more or layout.pumps[pump].cylinder_constant is not None:
        return

    def edit(drawing: Layout, number: float) -> Layout:
        changed = replace(drawing.pumps[pump], cylinders=round(number))
        return replace(drawing, pumps={**drawing.pumps, pump: changed})

    def describe(number: float, system: System) -> str:
        return f"take a pump of {number:.0f} cylinders for {pump}"

    yield Candidate(FixKind.SPEED, pump, edit, describe, "another pump", sizes=more)


def _shared(ledger: PumpLedger, other: PumpLedger) -> bool:
    """Whether two pumps draw through a part in common, other than their tank."""
    parts = {entry.part for entry in ledger.entries} & {entry.part for entry in other.entries}
    return bool(parts - {ledger.reservoir, other.reservoir})


def _slower(layout: Layout, pump: Pump, ledger: PumpLedger) -> Iterator[Candidate]:
    speed = pump.speed if pump.flow is None else None  # a flow that is typed overrides the speed
    by_speed = speed is not None
    now = speed.si if speed is not None else ledger.flow
    kind = Kind.SPEED if by_speed else Kind.FLOW
    put = inputs.speed if by_speed else inputs.flow

    def edit(drawing: Layout, value: float) -> Layout:
        return put(drawing, (pump.name,), value, Level.MINIMUM)

    def describe(value: float, system: System) -> str:
        verb = "turn" if by_speed else "run"
        return f"{verb} {pump.name} at {typeset(value, kind, system)}"

    yield Candidate(
        FixKind.SPEED,
        pump.name,
        edit,
        describe,
        "less flow in proportion, or a larger pump turning slower",
        now=now,
        most=now * SLOWEST,
        step=10 / 60 if by_speed else now / 100,
        usual=now * 0.8,
        enough_unit=kind,
    )


def thinner(layout: Layout) -> Iterator[Candidate]:
    """Fluids of the family in thinner grades, or the grade with a higher index."""
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


def thicker(layout: Layout) -> Iterator[Candidate]:
    """Fluids of the family in the next thicker grades."""
    choice = layout.fluid
    known = catalogue()
    family, _, grade = choice.name.rpartition(" VG ")
    if choice.name not in known or choice.viscosity is not None or not grade.isdigit():
        return
    names = (name for name in known if name.startswith(family + " VG ") and _grade(name) > int(grade))
    if grades := tuple(sorted(names, key=_grade)):
        yield _fluid(grades, "a change of fluid, thicker at the start too")


def _grade(name: str) -> int:
    return int(name.rpartition(" ")[2])


def _fluid(names: tuple[str, ...], cost: str) -> Candidate:
    def edit(drawing: Layout, size: float) -> Layout:
        fluid = replace(drawing.fluid, name=names[round(size)])
        return replace(drawing, fluid=fluid)

    def describe(size: float, system: System) -> str:
        return f"fill in {names[round(size)]}"

    sizes = tuple(float(i) for i in range(len(names)))
    return Candidate(FixKind.FLUID, "", edit, describe, cost, sizes=sizes, names=names)


def cooler(layout: Layout, now: Judged) -> Iterator[Candidate]:
    """The fluid kept cooler in the case that decides."""
    put = _put_temperature(layout, now.case)
    if not layout.fluid.has_one_viscosity and put is not None:
        yield _cooler(put, now)


def _when(now: Judged) -> str:
    return "" if now.case == AS_DRAWN else f" in the case {now.case}"


def _cooler(put: Put, now: Judged) -> Candidate:
    present = now.solution.fluid.temperature

    def cool(value: float, system: System) -> str:
        return f"keep the fluid at {typeset(value, Kind.TEMPERATURE, system)}{_when(now)}"

    return _temperature(put, cool, present, present - COOLEST, "a cooler, or less heat put in")


def temperatures(layout: Layout, now: Judged) -> Iterator[Candidate]:
    """The fluid warmer in every case as cold as the one that decides; or cooler where it gives off vapour."""
    if layout.fluid.has_one_viscosity:
        return
    drawn, present = layout.fluid.temperature.si, now.solution.fluid.temperature
    warmest = drawn if present < drawn else present + WARMEST
    colder = [name for name in cases_of(layout) if _own_temperature(layout, name) < warmest]

    def warm(value: float, system: System) -> str:
        when = _when(now) if colder == [now.case] else " in every case that is colder"
        return f"warm the fluid to {typeset(value, Kind.TEMPERATURE, system)} before the start{when}"

    def put_warmer(drawing: Layout, value: float) -> Layout:
        for name in cases_of(drawing):
            change = _put_temperature(drawing, name)
            if change is not None and _own_temperature(drawing, name) < value:
                drawing = change(drawing, value)
        return drawing

    heater = "a heater in the tank, and time before the start"
    yield replace(_temperature(put_warmer, warm, present, warmest, heater), only=_hot)
    if now.ledger.vapor_pressure >= BOILING_COUNTS:
        yield from cooler(layout, now)


def _hot(value: float) -> str:
    return ONLY_HEATED if value > HOT_START else ""


def _own_temperature(layout: Layout, case: str) -> float:
    """The temperature that a case names for itself [K]; infinite where it has the drawing's."""
    if case == AS_DRAWN:
        return layout.fluid.temperature.si
    if case not in layout.cases:
        coldest = layout.fluid.coldest_start
        return coldest.si if coldest is not None else math.inf
    figure = layout.cases[case].figures.get(TEMPERATURE)
    return figure.si if isinstance(figure, Quantity) else math.inf


def _temperature(put: Put, describe: Describe, now: float, most: float, cost: str) -> Candidate:
    return Candidate(
        FixKind.TEMPERATURE,
        "",
        put,
        describe,
        cost,
        now=now,
        most=most,
        step=1.0,
        usual=(now + most) / 2,
        enough_unit=Kind.TEMPERATURE,
    )


def _put_temperature(layout: Layout, case: str) -> Put | None:
    """How the temperature of a case is changed; None where the case has none of its own to change."""
    if case == AS_DRAWN:
        return lambda drawing, value: inputs.temperature(drawing, ("",), value, Level.MINIMUM)
    if case == SHORT_CASE and case not in layout.cases:
        return _put_coldest
    if TEMPERATURE not in layout.cases[case].figures:
        return None
    typed = layout.cases[case].figures[TEMPERATURE]
    return lambda drawing, value: with_case_figure(
        drawing, case, TEMPERATURE, rewritten(typed, value, Kind.TEMPERATURE)
    )


def _put_coldest(drawing: Layout, value: float) -> Layout:
    old = drawing.fluid.coldest_start
    if old is None:
        raise ValueError("the drawing names no coldest start")
    coldest = rewritten(old, value, Kind.TEMPERATURE)
    return replace(drawing, fluid=replace(drawing.fluid, coldest_start=coldest))


def _pressed(layout: Layout, ledger: PumpLedger) -> Iterator[Candidate]:
    tank = layout.reservoirs[ledger.reservoir]
    if tank.breather_drop is not None and tank.breather_drop.si > 0:
        yield _unblocked(tank.name)
    if tank.sealed or tank.breather_drop is not None:
        return
    now = tank.pressure.si if tank.pressure is not None else 0.0
    if now >= MOST_PRESSURE:
        return

    def edit(drawing: Layout, value: float) -> Layout:
        reservoirs = drawing.reservoirs
        pressed = replace(reservoirs[tank.name], pressure=new(value, Kind.PRESSURE, drawing))
        return replace(drawing, reservoirs={**reservoirs, tank.name: pressed})

    def describe(value: float, system: System) -> str:
        return f"hold {typeset(value, Kind.PRESSURE, system)} on the fluid in {tank.name}"

    yield Candidate(
        FixKind.PRESSURE,
        tank.name,
        edit,
        describe,
        "a tank built and rated for it, with a regulator and a relief valve: ask its maker",
        now=now,
        most=MOST_PRESSURE,
        step=1000.0,
        usual=now + 7000.0,
        enough_unit=Kind.PRESSURE,
        only=lambda _: ONLY_PRESSED,
    )


def _unblocked(tank: str) -> Candidate:
    def edit(drawing: Layout, _: float) -> Layout:
        reservoirs = drawing.reservoirs
        freed = replace(reservoirs[tank], breather_drop=None)
        return replace(drawing, reservoirs={**reservoirs, tank: freed})

    def describe(_: float, system: System) -> str:
        return f"fit a breather to {tank} that takes nothing while the level falls"

    return Candidate(FixKind.PRESSURE, tank, edit, describe, "a larger or a new breather", sizes=(1.0,))
