"""Changes of what presses on the fluid: a breather freed or fitted, pressure held on the tank."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from solver.fixes.candidate import (
    Candidate,
    FixKind,
    in_one_size,
    new_quantity,
    rewritten,
    typed_in,
    when,
    with_case_figure,
)
from solver.fixes.judging import Judged
from solver.geometry.reservoirs import lid
from solver.layout.parts import Layout, Reservoir
from solver.quantities.units import Kind, Quantity, System, typeset

ONLY_PRESSED = "Only with a tank built for it"

MOST_PRESSURE = 35e3
"""Gauge pressure beyond which a tank is a pressure vessel [Pa]; common practice, no source."""

BUILT_FOR_IT = "a tank built and rated for it, with a regulator and a relief valve; ask its maker"
"""What pressure on a tank's fluid asks for; common practice, no source."""

STEP = 100.0
"""In which the drop of a breather is lowered [Pa]."""


def candidates(layout: Layout, now: Judged) -> Iterator[Candidate]:
    """Changes of the pressure on the fluid that one pump draws, in the case that decides."""
    name = now.ledger.reservoir
    tank = now.solution.layout.reservoirs[name]
    breather = "reservoirs", name, "breather_drop"
    if tank.breather_drop is not None and tank.breather_drop.si > 0:
        if typed_in(layout, now.case, breather):
            yield _freed_sooner(name, now.case, breather, tank.breather_drop)
        else:
            yield _unblocked(name)
    if tank.sealed:
        yield _breathing(name)
    elif tank.breather_drop is None:
        yield from _pressed(layout, tank, now)


def on_lid(tank: Reservoir, pressure: float, system: System) -> str:
    """What a gauge pressure [Pa] on a tank's fluid comes to as a force that lifts its lid."""
    held = typeset(pressure, Kind.PRESSURE, system)
    wide, deep = (typeset(each, Kind.LENGTH, system) for each in lid(tank))
    force = typeset(pressure * math.prod(lid(tank)), Kind.FORCE, system)
    return f"{held} under a lid of {wide} by {deep} lifts it with {force}"


def _with(layout: Layout, tank: Reservoir) -> Layout:
    return replace(layout, reservoirs={**layout.reservoirs, tank.name: tank})


def _pressed(layout: Layout, tank: Reservoir, now: Judged) -> Iterator[Candidate]:
    present = tank.pressure.si if tank.pressure is not None else 0.0
    if present >= MOST_PRESSURE:
        return
    path = "reservoirs", tank.name, "pressure"
    cased = typed_in(layout, now.case, path)

    def edit(drawing: Layout, value: float) -> Layout:
        pressure = new_quantity(value, Kind.PRESSURE, drawing)
        if cased:
            return with_case_figure(drawing, now.case, path, pressure)
        return _with(drawing, replace(drawing.reservoirs[tank.name], pressure=pressure))

    def describe(value: float, system: System) -> str:
        held = typeset(value, Kind.PRESSURE, system)
        return f"hold {held} on the fluid in {tank.name}{when(now.case) if cased else ''}"

    yield Candidate(
        FixKind.PRESSURE,
        tank.name,
        edit,
        describe,
        BUILT_FOR_IT,
        now=present,
        most=MOST_PRESSURE,
        step=1000.0,
        usual=present + 7000.0,
        enough_unit=Kind.PRESSURE,
        adds=lambda value, system: on_lid(tank, value, system),
        only=lambda _: ONLY_PRESSED,
    )


def _unblocked(tank: str) -> Candidate:
    def edit(drawing: Layout) -> Layout:
        return _with(drawing, replace(drawing.reservoirs[tank], breather_drop=None))

    order = f"fit a breather to {tank} without a pressure drop while the level falls"
    return in_one_size(FixKind.PRESSURE, tank, edit, order, "a larger or a new breather")


def _freed_sooner(tank: str, case: str, path: tuple[str, ...], drop: Quantity) -> Candidate:
    """A breather freed before it takes as much as it does in one case."""

    def edit(drawing: Layout, value: float) -> Layout:
        return with_case_figure(drawing, case, path, rewritten(drop, value, Kind.PRESSURE))

    def describe(value: float, system: System) -> str:
        least = typeset(value, Kind.PRESSURE, system)
        return f"free the breather of {tank} before it takes more than {least}{when(case)}"

    return Candidate(
        FixKind.PRESSURE,
        tank,
        edit,
        describe,
        "shorter intervals, or a larger breather",
        now=drop.si,
        most=0.0,
        step=STEP,
        usual=drop.si / 2,
        enough_unit=Kind.PRESSURE,
    )


def _breathing(tank: str) -> Candidate:
    def edit(drawing: Layout) -> Layout:
        return _with(drawing, replace(drawing.reservoirs[tank], sealed=False, pressure=None))

    order = f"let {tank} breathe, so that its gas does not expand as the level falls"
    return in_one_size(FixKind.PRESSURE, tank, edit, order, "a breather; air reaches the fluid")
