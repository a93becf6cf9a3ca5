"""Changes of what runs through the line, and how: speed, start, fluid, temperature."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

from solver.answers import inputs
from solver.fixes.candidate import Candidate, FixKind, rewritten, typed_in, when, with_case_figure
from solver.fixes.judging import Judged
from solver.layout.cases import AS_DRAWN, cases_of
from solver.layout.cold_lines import with_cold_lines
from solver.layout.parts import CYLINDERS, SHORT_CASE, Layout, Level
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

HOTTEST_START = 333.15
"""Temperature to which nobody heats a tank before a start, 60 °C [K]; common practice, no source."""

ONLY_HEATED = "Only with a tank heated far beyond what is usual before a start"

LONGEST_RISE = 10.0
"""Times the rise of a flow that a softer start may take at most; ours."""

TEMPERATURE = ("fluid", "temperature")
LINE_TEMPERATURE = ("fluid", "line_temperature")

Put = Callable[[Layout, float], Layout]
Describe = Callable[[float, System], str]


def candidates(layout: Layout, now: Judged) -> Iterator[Candidate]:
    """Changes of conditions for one pump, above all in the case that decides; but for the fluid."""
    yield from slower(layout, now)
    yield from temperatures(layout, now)
    yield from line_warmer(layout, now)
    yield from softer_start(layout, now)


def slower(layout: Layout, now: Judged) -> Iterator[Candidate]:
    """The pump slower, or another that draws through the same line."""
    yield from _slower(layout, now, now.ledger)
    for other in now.solution.pumps.values():
        if other.pump != now.pump and _shared(now.ledger, other):
            yield from _slower(layout, now, other)


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


def _slower(layout: Layout, now: Judged, ledger: PumpLedger) -> Iterator[Candidate]:
    pump = now.solution.layout.pumps[ledger.pump]
    speed = pump.speed if pump.flow is None else None  # a flow that is typed overrides the speed
    by_speed = speed is not None
    present = speed.si if speed is not None else ledger.flow
    kind = Kind.SPEED if by_speed else Kind.FLOW
    put = inputs.speed if by_speed else inputs.flow
    path = "pumps", pump.name, "speed" if by_speed else "flow"
    typed, cased = pump.speed if by_speed else pump.flow, typed_in(layout, now.case, path)

    def edit(drawing: Layout, value: float) -> Layout:
        if cased and typed is not None:
            return with_case_figure(drawing, now.case, path, rewritten(typed, value, kind))
        return put(drawing, (pump.name,), value, Level.MINIMUM)

    def describe(value: float, system: System) -> str:
        return f"run {pump.name} at {typeset(value, kind, system)}{when(now.case) if cased else ''}"

    yield Candidate(
        FixKind.SPEED,
        pump.name,
        edit,
        describe,
        "less flow in proportion, so a slower machine",
        now=present,
        most=present * SLOWEST,
        step=10 / 60 if by_speed else present / 100,
        usual=present * 0.8,
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
        return f"fill the tank with {names[round(size)]}"

    sizes = tuple(float(i) for i in range(len(names)))
    return Candidate(FixKind.FLUID, "", edit, describe, cost, sizes=sizes, names=names)


def cooler(layout: Layout, now: Judged) -> Iterator[Candidate]:
    """The fluid kept cooler in the case that decides."""
    put = _put_temperature(layout, now.case)
    if not layout.fluid.has_one_viscosity and put is not None:
        yield _cooler(put, now)


def _cooler(put: Put, now: Judged) -> Candidate:
    present = now.solution.fluid.temperature

    def cool(value: float, system: System) -> str:
        return f"keep the fluid at {typeset(value, Kind.TEMPERATURE, system)}{when(now.case)}"

    return _temperature(put, cool, present, present - COOLEST, "a cooler, or less heat put in")


def temperatures(layout: Layout, now: Judged) -> Iterator[Candidate]:
    """The fluid warmer in every case as cold as the one that decides; or cooler where it gives off vapour."""
    if layout.fluid.has_one_viscosity:
        return
    drawn, present = layout.fluid.temperature.si, now.solution.fluid.temperature
    warmest = min(drawn if present < drawn else present + WARMEST, HOTTEST_START)
    colder = [name for name in cases_of(layout) if _own_temperature(layout, name) < warmest]

    def warm(value: float, system: System) -> str:
        cases = when(now.case) if colder == [now.case] else " in every case that is colder"
        return f"warm the fluid to {typeset(value, Kind.TEMPERATURE, system)} before the start{cases}"

    def put_warmer(drawing: Layout, value: float) -> Layout:
        warmed = drawing
        for name in cases_of(drawing):
            change = _put_temperature(drawing, name)
            if change is not None and _own_temperature(drawing, name) < value:
                warmed = change(warmed, value)
        return with_cold_lines(drawing, warmed)

    heater = "a heater in the tank, a line that is warm too, and time before the start"
    if warmest - present >= 1.0:
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


def line_warmer(layout: Layout, now: Judged) -> Iterator[Candidate]:
    """A line that is colder than its tank kept warmer, up to what the tank has."""
    drawn, present, most = now.solution.layout.fluid, now.solution.fluid, now.solution.tank_fluid
    typed, case = drawn.line_temperature, now.case
    if typed is None or most.temperature - present.temperature < 1.0:
        return

    def edit(drawing: Layout, value: float) -> Layout:
        warmer = rewritten(typed, value, Kind.TEMPERATURE)
        if typed_in(layout, case, LINE_TEMPERATURE):
            return with_case_figure(drawing, case, LINE_TEMPERATURE, warmer)
        return replace(drawing, fluid=replace(drawing.fluid, line_temperature=warmer))

    def describe(value: float, system: System) -> str:
        at = typeset(value, Kind.TEMPERATURE, system)
        return f"lag and heat the line, so that it is at {at} at the start{when(case)}"

    heater = "lagging, and a heating cable along the line"
    warmer = _temperature(edit, describe, present.temperature, most.temperature, heater)
    yield replace(warmer, kind=FixKind.LINE_TEMPERATURE)


def softer_start(layout: Layout, now: Judged) -> Iterator[Candidate]:
    """The flow of a pump that starts, or comes on stroke, rising more slowly."""
    name, case = now.pump, now.case
    path, typed = ("pumps", name, "flow_rise"), now.solution.layout.pumps[now.pump].flow_rise
    if typed is None:
        return

    def edit(drawing: Layout, value: float) -> Layout:
        longer = rewritten(typed, value, Kind.TIME)
        if typed_in(layout, case, path):
            return with_case_figure(drawing, case, path, longer)
        slower = replace(drawing.pumps[name], flow_rise=longer)
        return replace(drawing, pumps={**drawing.pumps, name: slower})

    def describe(value: float, system: System) -> str:
        return f"let the flow of {name} rise in {typeset(value, Kind.TIME, system)}{when(case)}"

    yield Candidate(
        FixKind.START,
        name,
        edit,
        describe,
        "a soft start, or a control that brings the pump on stroke more slowly",
        now=typed.si,
        most=typed.si * LONGEST_RISE,
        step=typed.si / 10,
        usual=typed.si * 2,
        enough_unit=Kind.TIME,
    )
