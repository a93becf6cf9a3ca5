"""What may be wrong with a pump's line: each as a change of the machine in one size, and the sizes tried."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

import numpy as np
from numpy.typing import NDArray

from solver.answers import inputs
from solver.answers.variations import line_parts
from solver.field import thickness
from solver.field.lodged import lodged
from solver.field.states import Reading
from solver.formulas.flow import GRAVITY
from solver.geometry import outline
from solver.layout.parts import Layout, Level, Run
from solver.ledger.solve import PumpLedger
from solver.network import rows as making
from solver.network.build import Network, build, columns, pump_flow
from solver.network.coefficients import CONNECTOR_BORES
from solver.network.rows import RowKind
from solver.network.walls import material_without_size
from solver.network.ways import Rows
from solver.properties import fluid
from solver.quantities import columns as figures
from solver.quantities.units import Kind, Quantity, System
from solver.quantities.wording import degrees

Floats = NDArray[np.float64]


class CauseKind(StrEnum):
    """What may be wrong."""

    NOTHING = "nothing wrong"
    SCREEN = "screen blocked"
    STUCK = "screen blocked, its bypass stuck shut or set too high"
    BORE = "bore narrowed"
    HOSE = "hose liner soft"
    RESISTANCE = "valve half shut, or a rag"
    AS_BUILT = "drawing not as built: longer lines"
    FLUID = "fluid thicker than drawn, or colder"
    LEVEL = "level lower than drawn"
    OFFSET = "gauge off, or fluid in its tube"
    SURFACE = "breather plugged"
    LESS_FLOW = "pump takes in less, or fluid thinner"
    MORE_FLOW = "pump turns faster, or is larger"
    JOINT = "air at a joint"
    SEAL = "air at the shaft seal"
    VORTEX = "vortex over the intake"
    RETURN = "air from the return"
    UNLISTED = "none of these"


AIR = (CauseKind.JOINT, CauseKind.SEAL, CauseKind.VORTEX, CauseKind.RETURN)
"""Causes by which air is drawn in; a gauge itself hardly shows any of them."""


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing that may be wrong, in any of its sizes; the smallest first."""

    kind: CauseKind
    part: str  # where it is; "" where it is in no one part
    sizes: tuple[float, ...]
    unit: Kind
    change: Callable[[Network, float], Network]  # the machine with it, in one size or a column of them
    offset: Callable[[float, Reading], float]  # what it adds to a reading [Pa]
    why_not: str = ""  # why it cannot be, whatever was read; "" where it can
    may_last: Callable[[float, Reading], float] | None = (
        None  # what it may add besides, all or a part of it [Pa]
    )
    odds_of: tuple[float, ...] = ()  # how often each size is met, against the most common; empty: all alike
    words: str = ""  # of its kind in such a part; "" where those of its kind hold

    @property
    def name(self) -> str:
        """What it is, and where."""
        return named(self.words or self.kind, self.part)


def named(what: str, part: str) -> str:
    """What is wrong and where, in no one part for ""."""
    return f"{what}: {part}" if part else str(what)


def changed(network: Network, both: Sequence[tuple[Cause, float]]) -> Network:
    """The machine with several causes, each in its size; those that build the line again come first."""
    for cause, size in sorted(both, key=lambda each: each[0].kind not in (CauseKind.BORE, CauseKind.HOSE)):
        network = cause.change(network, size)
    return network


SOFT_FROM, SOFT_AT = 293.15, 333.15
"""A soft liner narrows from the first temperature on, in full at the second [K]. Common practice, no
source."""

HOSE_MATERIAL = "rubber hose"


def causes(layout: Layout, ledger: PumpLedger, readings: Sequence[Reading]) -> Iterator[Cause]:
    """Everything that readings of one pump's line may show; the first is that nothing is wrong."""
    parts = line_parts(ledger)
    yield _cause(CauseKind.NOTHING, "", (0.0,), Kind.NUMBER, _unchanged)
    for name in parts:
        if (screen := layout.screen(name)) is not None:
            yield _screen(name, screen.blocked)
            if screen.bypass is not None:
                yield _stuck(name, screen.blocked)
    for name in parts:
        if name in layout.runs:
            yield _narrowed(name)
        if is_hose(layout, name):
            yield _soft_where_warm(layout, name, readings)
        if name in layout.fittings:
            yield replace(_resistance(name), words=lodged(layout.fittings[name]))
    yield _as_built([name for name in parts if name in layout.runs])
    yield _thicker(readings)
    yield _lower(layout, ledger)
    for gauge in dict.fromkeys(reading.gauge.name for reading in readings):
        yield _gauge_off(gauge)
    yield _breather(ledger.reservoir)
    yield _flow(CauseKind.LESS_FLOW, ledger.pump, np.linspace(0.96, 0.3, 20))
    yield _flow(CauseKind.MORE_FLOW, ledger.pump, np.linspace(1.04, 1.8, 20))


def unseen(kind: CauseKind, part: str, why_not: str) -> Cause:
    """A cause that moves no gauge, such as air that is drawn in."""
    return replace(_cause(kind, part, (0.0,), Kind.NUMBER, _unchanged), why_not=why_not)


def _cause(
    kind: CauseKind,
    part: str,
    sizes: Iterable[float],
    unit: Kind,
    change: Callable[[Network, float], Network],
    offset: Callable[[float, Reading], float] = lambda size, reading: 0.0,
) -> Cause:
    return Cause(kind, part, tuple(map(float, sizes)), unit, change, offset)


def _unchanged(network: Network, size: float) -> Network:
    return network


def _screen(name: str, blocked: float) -> Cause:
    def change(network: Network, size: float) -> Network:
        return _with_screen(network, with_blocked(network.layout, name, size), name)

    return _cause(CauseKind.SCREEN, name, _blocked_shares(blocked), Kind.SHARE, change)


def _blocked_shares(drawn: float) -> Floats:
    return 1.0 - np.geomspace(1.0 - drawn, 0.01, 25)[1:]


def _stuck(name: str, blocked: float) -> Cause:
    """A blocked screen whose bypass does not open; where it would not yet, it reads as the screen alone."""

    def change(network: Network, size: float) -> Network:
        blocked = _with_screen(network, with_blocked(network.layout, name, size), name)
        rows = [
            replace(row, cap=math.inf) if (row.part, row.kind) == (name, RowKind.SCREEN) else row
            for row in blocked.rows
        ]
        return replace(blocked, rows=Rows(rows), columns=columns(rows))

    return _cause(CauseKind.STUCK, name, _blocked_shares(blocked), Kind.SHARE, change)


def with_blocked(layout: Layout, name: str, size: float) -> Layout:
    """A drawing with a share of a screen blocked."""
    group = "intakes" if name in layout.intakes else "fittings"
    parts: Mapping[str, Any] = getattr(layout, group)
    part = replace(parts[name], screen=replace(parts[name].screen, blocked=size))
    changed: dict[str, Any] = {group: {**parts, name: part}}
    return replace(layout, **changed)


def without_bypass(layout: Layout, name: str) -> Layout:
    """A drawing whose screen has no bypass."""
    group = "intakes" if name in layout.intakes else "fittings"
    parts: Mapping[str, Any] = getattr(layout, group)
    bare = replace(parts[name].screen, bypass=None, bypass_flow=None, bypass_drop=None, bypass_viscosity=None)
    changed: dict[str, Any] = {group: {**parts, name: replace(parts[name], screen=bare)}}
    return replace(layout, **changed)


def _with_screen(network: Network, layout: Layout, name: str) -> Network:
    """A network with the screen of a part as a layout has it."""
    part = layout.intakes.get(name)
    part_rows = making.intake_rows(part) if part is not None else making.fitting_rows(layout.fittings[name])
    screens = {row.key: row for row in part_rows if row.kind is RowKind.SCREEN}
    rows = [screens.get(row.key, row) for row in network.rows]
    placed = [replace(row, start=old.start, end=old.end) for row, old in zip(rows, network.rows, strict=True)]
    return replace(network, layout=layout, rows=Rows(placed), columns=columns(placed))


def _narrowed(name: str) -> Cause:
    def change(network: Network, size: float) -> Network:
        return build(with_bore_times(network.layout, name, size))

    return _cause(CauseKind.BORE, name, np.linspace(0.96, 0.4, 22), Kind.SHARE, change)


def with_bore_times(layout: Layout, name: str, times: float) -> Layout:
    """A drawing with a run of so many times its bore, on the same centre line."""
    run = layout.runs[name]
    bore, radius = outline.bore(run) * times, outline.bend_radius(run)
    narrow = replace(run, bore=_metres(bore), size=None, material=material_without_size(run))
    if radius:
        narrow = replace(narrow, bend_radius=_metres(radius))
    return replace(layout, runs={**layout.runs, name: narrow})


def _metres(value: float) -> Quantity:
    return Quantity(f"{figures.first(value)!r} m", value)


def _pascals(value: float) -> Quantity:
    return Quantity(f"{value!r} Pa", value)


def is_hose(layout: Layout, name: str) -> bool:
    """Whether a part of a line has a soft wall."""
    run: Run | None = layout.runs.get(name)
    if run is not None:
        return run.material == HOSE_MATERIAL or (run.size or "").startswith("hose")
    return name in layout.fittings and layout.fittings[name].kind == "flexible connector"


def _soft(name: str) -> Cause:
    def change(network: Network, size: float) -> Network:
        left = bore_left(network.layout, size)
        fitting = network.layout.fittings.get(name)
        if fitting is None or fitting.curve is None:
            return build(softened(network.layout, name, left))
        return with_scaled_rows(network, (name,), viscous=left**-4.0, inertial=left**-4.0)

    return _cause(CauseKind.HOSE, name, np.linspace(0.05, 0.6, 20), Kind.SHARE, change)


def _soft_where_warm(layout: Layout, name: str, readings: Sequence[Reading]) -> Cause:
    """A soft liner; where none of the readings is warm enough for it, with that as why it cannot be."""
    cause = _soft(name)
    if not readings or softness(readings) > 0.0:
        return cause
    firm = degrees(SOFT_FROM, System(layout.units))
    return replace(
        cause, why_not=f"a liner is firm up to {firm}, and none of the readings is warmer: read it warm too"
    )


def softness(readings: Sequence[Reading]) -> float:
    """How much of its softness a liner may have at the warmest of some readings, from 0 when firm to 1."""
    warmest = max(reading.layout.fluid.temperature.si for reading in readings)
    return min(max((warmest - SOFT_FROM) / (SOFT_AT - SOFT_FROM), 0.0), 1.0)


def bore_left(layout: Layout, size: float) -> float:
    """The share of its bore that a soft liner leaves in a drawing's fluid.

    size: the share that is lost when the liner is hot.
    """
    warm = (layout.fluid.temperature.si - SOFT_FROM) / (SOFT_AT - SOFT_FROM)
    return 1.0 - size * figures.least(figures.largest(warm, 0.0), 1.2)


def softened(layout: Layout, name: str, left: float) -> Layout:
    """A drawing in which the liner of a hose or a connector leaves that share of its bore.

    A connector stays as long as it is. Of one by its maker's points the drops rise with the fourth power of
    the bore, as the losses of a flow that stays the same do, laminar or not.
    """
    if name in layout.runs:
        return with_bore_times(layout, name, left)
    part = layout.fittings[name]
    if part.curve is not None:
        drops = tuple((flow, _pascals(drop.si / left**4.0)) for flow, drop in part.curve.drops)
        soft = replace(part, curve=replace(part.curve, drops=drops))
    else:
        bore = outline.bore(part)
        long = CONNECTOR_BORES * bore if part.length is None else part.length.si
        soft = replace(part, size=None, bore=_metres(bore * left), length=_metres(long))
    return replace(layout, fittings={**layout.fittings, name: soft})


def _resistance(name: str) -> Cause:
    def change(network: Network, size: float) -> Network:
        return with_resistance(network, name, size)

    return _cause(CauseKind.RESISTANCE, name, np.geomspace(0.5, 400.0, 24), Kind.NUMBER, change)


def with_resistance(network: Network, part: str, k: float) -> Network:
    """A network with so much more K in one part."""
    rows = list(network.rows)
    number = next(i for i, row in enumerate(rows) if row.part == part)
    had = {name: getattr(rows[number], name) for name in ("k_inf", "k_slow", "k_inf_back", "k_slow_back")}
    more = {name: value + k for name, value in had.items() if value is not None}
    rows[number] = replace(rows[number], **more)
    return replace(network, rows=Rows(rows), columns=columns(rows))


def _as_built(runs: list[str]) -> Cause:
    def change(network: Network, size: float) -> Network:
        return with_scaled_rows(network, runs, length=1.0 + size)

    return _cause(CauseKind.AS_BUILT, "", np.geomspace(0.1, 4.0, 18), Kind.SHARE, change)


def with_scaled_rows(network: Network, parts: Iterable[str], **factors: float) -> Network:
    """The network with fields of the rows of some parts multiplied.

    factors: by the name of the field; `bore=0.9` makes each of those rows a tenth narrower. What a row has
    nothing of stays so.
    """
    chosen = set(parts)
    rows = [_scaled(row, factors) if row.part in chosen else row for row in network.rows]
    return replace(network, rows=Rows(rows), columns=columns(rows))


def _scaled(row: making.Row, factors: Mapping[str, float]) -> making.Row:
    had = {name: getattr(row, name) for name in factors}
    return replace(row, **{name: had[name] * factors[name] for name in had if had[name] is not None})


def _thicker(readings: Sequence[Reading]) -> Cause:
    """A fluid so many times as thick; what no grade and no cold would give is met the less."""
    cause = _cause(CauseKind.FLUID, "", np.geomspace(1.06, 8.0, 22), Kind.NUMBER, _with_thicker_fluid)
    most = thickness.thickest(readings)
    return replace(cause, odds_of=tuple(thickness.odds(size, most) for size in cause.sizes))


def _with_thicker_fluid(network: Network, size: float) -> Network:
    return replace(network, layout=thicker(network.layout, size))


def thicker(layout: Layout, times: float) -> Layout:
    """A drawing whose fluid is so many times as thick at its temperature."""
    thick = inputs.viscosity(layout, ("",), fluid.state(layout.fluid).viscosity * times, Level.MINIMUM)
    return replace(thick, fluid=replace(thick.fluid, coldest_start=None))


def _lower(layout: Layout, ledger: PumpLedger) -> Cause:
    """A level no lower than the deepest intake of its tank: below that the pump draws air alone."""
    tank, weight = ledger.reservoir, ledger.density * GRAVITY
    intakes = [each.at[1].si for each in layout.intakes.values() if each.reservoir == tank]
    deepest = ledger.fluid_level - min(intakes, default=ledger.fluid_level)
    sizes = np.geomspace(0.02, max(deepest, 0.05), 20)
    return _cause(CauseKind.LEVEL, tank, sizes, Kind.LENGTH, _unchanged, lambda size, reading: weight * size)


def _gauge_off(gauge: str) -> Cause:
    sizes = (*-np.geomspace(30e3, 500.0, 14), *np.geomspace(500.0, 30e3, 14))

    def offset(size: float, reading: Reading) -> float:
        return size if reading.gauge.name == gauge else 0.0

    return _cause(CauseKind.OFFSET, gauge, sizes, Kind.VACUUM, _unchanged, offset)


def _breather(tank: str) -> Cause:
    """A tank that draws in no air. Once the pump rests air comes in, nobody knows how fast: of what the tank
    lacked any share may be left at the reading, all of it where what was read held from then on.
    """

    def offset(size: float, reading: Reading) -> float:
        return 0.0 if reading.resting and not reading.held else size

    def may_last(size: float, reading: Reading) -> float:
        return size - offset(size, reading)

    cause = _cause(CauseKind.SURFACE, tank, np.geomspace(500.0, 30e3, 20), Kind.VACUUM, _unchanged, offset)
    return replace(cause, may_last=may_last)


def _flow(kind: CauseKind, name: str, sizes: Iterable[float]) -> Cause:
    def change(network: Network, size: float) -> Network:
        return with_flow(network, (name,), size)

    return _cause(kind, name, sizes, Kind.SHARE, change)


def with_flow(network: Network, pumps: Iterable[str], times: float) -> Network:
    """A network whose pumps take in so many times as much."""
    changed = dict(network.layout.pumps)
    for name in pumps:
        flow = pump_flow(changed[name]) * times
        changed[name] = replace(
            changed[name], flow=Quantity(f"{figures.first(flow)!r} m^3/s", flow), volumetric_efficiency=None
        )
    return replace(network, layout=replace(network.layout, pumps=changed))
