"""What each backward question varies: the one thing, its range, and how a drawing with it looks."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from solver.answers import inputs
from solver.answers.inputs import INPUTS, SITES
from solver.answers.roots import crossing
from solver.formulas import flow
from solver.geometry import moving
from solver.layout.parts import REDUCER_KINDS, Fitting, Layout, Site
from solver.ledger.solve import PumpLedger, Solution
from solver.properties import fluid
from solver.quantities.units import Kind, Quantity, System
from solver.quantities.wording import degrees

FARTHEST_RUN = 1000.0
"""Line beyond which nobody asks [m]."""

GIVEN = "given"
"""Said of a value that the drawing gives, and that is not the one the pump runs at."""


@dataclass(frozen=True, slots=True)
class Variation:
    """One thing varied while everything else stays."""

    kind: Kind
    now: float  # [SI unit of the kind]
    worst: float  # end of the range towards less margin
    best: float  # the other end
    change: Callable[[float], Layout]  # the drawing with that value; raises ValueError where there is none
    meaning: str  # what it is that has the value
    slope: float = 0.0  # margin lost per unit, where it is known beforehand [Pa/unit]
    tolerance: float = 1e-6  # of the value
    enough: float = 0.01  # margin taken for zero [Pa]
    name: str = ""  # what the answer is called, where the question's own name does not fit
    from_here: str = "now"  # what the value is that the search starts from
    worst_is: str = ""  # what that end of the range is, where it is no mere end of a search
    best_is: str = "where the search ends"
    note: str = ""  # what else should be known

    def step(self, margin: float) -> float:
        """How far to try first, from the margin now [Pa]."""
        end = self.worst if margin >= 0 else self.best
        return abs(margin) / self.slope if self.slope else abs(end - self.now) / 32


def port_height(present: Solution, ledger: PumpLedger) -> Variation:
    layout, pump = present.layout, present.layout.pumps[ledger.pump]
    x, z = pump.at[0].si, pump.at[1].si
    weight = flow.static_lift.scalar(ledger.density, 1.0)
    reach = 2 * (abs(ledger.budget) + abs(ledger.margin)) / weight + 1.0
    return Variation(
        kind=Kind.LENGTH,
        now=z,
        worst=z + reach,
        best=z - reach,
        change=lambda to: layout if to == z else moving.move_part(layout, pump.name, x, to),
        meaning="elevation of the port's centre",
        slope=weight,
        tolerance=1e-4,
        enough=1.0,  # positions are kept to 0.1 mm
    )


def fluid_level(present: Solution, ledger: PumpLedger) -> Variation:
    layout, tank = present.layout, present.layout.reservoirs[ledger.reservoir]
    mouths = (each for each in layout.intakes.values() if each.reservoir == tank.name)
    highest = max(mouths, key=lambda each: each.at[1].si)
    return Variation(
        kind=Kind.LENGTH,
        now=ledger.fluid_level,
        worst=highest.at[1].si,
        best=max(y.si for _, y in tank.outline),
        change=lambda to: inputs.fluid_level(layout, (tank.name,), to, present.level),
        meaning=f"elevation of the fluid in {tank.name}",
        worst_is=f"at the intake {highest.name}",
        best_is=f"the rim of {tank.name}",
        slope=flow.static_lift.scalar(ledger.density, 1.0),
    )


def bore(present: Solution, ledger: PumpLedger) -> Variation:
    layout = present.layout
    names = line_parts(ledger)
    bores = [e.bore for e in ledger.entries if e.part in names]
    widest = max(bores)
    return Variation(
        kind=Kind.BORE,
        now=widest,
        worst=INPUTS["bore"].searched[0],
        best=INPUTS["bore"].searched[1],
        change=lambda to: with_bore(layout, names, bore=_length(to)),
        meaning="one bore for the whole line",
        tolerance=1e-7,
        from_here="now" if min(bores) > widest * (1 - 1e-3) else "now up to",
    )


def line_parts(ledger: PumpLedger) -> tuple[str, ...]:
    """The parts on the way to a pump that have a bore of their own, without the port."""
    return tuple(
        dict.fromkeys(e.part for e in ledger.entries if e.part not in (ledger.pump, ledger.reservoir))
    )


def with_bore(
    layout: Layout, names: tuple[str, ...], bore: Quantity | None = None, size: str | None = None
) -> Layout:
    """The drawing with one bore, or one standard size, for the named runs, fittings, tees and intakes."""

    def sized(part: Any) -> Any:
        if isinstance(part, Fitting) and part.kind in REDUCER_KINDS:
            return replace(part, bore=bore, size=size, other_bore=bore, other_size=size)
        return replace(part, bore=bore, size=size)

    def fitted(group: Mapping[str, Any]) -> dict[str, Any]:
        return {k: sized(p) if k in names else p for k, p in group.items()}

    return replace(
        layout,
        runs=fitted(layout.runs),
        fittings=fitted(layout.fittings),
        tees=fitted(layout.tees),
        intakes=fitted(layout.intakes),
    )


def run_length(present: Solution, ledger: PumpLedger) -> Variation | str:
    layout = present.layout
    lengths: dict[str, float] = {}
    for entry in ledger.entries:
        if entry.part in layout.runs:
            lengths[entry.part] = lengths.get(entry.part, 0.0) + entry.length
    if not lengths:
        return "there is no run on the way to the pump"
    name = max(lengths, key=lambda run: lengths[run])
    run, now = layout.runs[name], lengths[name]
    hidden = run.out_of_plane.si if run.out_of_plane is not None else 0.0

    def change(to: float) -> Layout:
        longer = replace(run, out_of_plane=_length(max(hidden + to - now, 0.0)))
        return replace(layout, runs={**layout.runs, name: longer})

    return Variation(
        kind=Kind.LENGTH,
        now=now,
        worst=now + FARTHEST_RUN,
        best=now - hidden,
        change=change,
        meaning=f"straight line in {name}",
        best_is="as short as it is drawn",
        note="its bends and heights stay as they are",
    )


def temperature(present: Solution, ledger: PumpLedger) -> Variation | str:
    layout = present.layout
    if layout.fluid.has_one_viscosity:
        return "the one viscosity typed says nothing of another temperature"
    return Variation(
        kind=Kind.TEMPERATURE,
        now=present.fluid.temperature,
        worst=INPUTS["temperature"].searched[0],
        best=INPUTS["temperature"].searched[1],
        change=lambda to: inputs.temperature(layout, (), to, present.level),
        meaning="fluid temperature at full flow",
        tolerance=1e-4,
        note=_start_limit(present, ledger),
    )


def _start_limit(present: Solution, ledger: PumpLedger) -> str:
    pump = present.layout.pumps[ledger.pump]
    if pump.start_viscosity is None:
        return "the pump's start viscosity is not given"
    limit, choice, now = pump.start_viscosity.si, present.layout.fluid, present.fluid

    def to_spare(at: float) -> float:
        return limit - fluid.state(choice, at).viscosity

    coldest, hottest = INPUTS["temperature"].searched
    thin = now.viscosity <= limit
    reached = crossing(to_spare, now.temperature, coldest if thin else hottest, 2.0, 1e-3, 1e-12)
    if not reached.found:
        than = "thinner" if thin else "thicker"
        return f"the fluid is {than} than the pump's start viscosity as far as its figures go"
    at = degrees(reached.at, System(present.layout.units))
    return f"below {at} the fluid is thicker than the pump's start viscosity"


def site(present: Solution, ledger: PumpLedger) -> Variation:
    layout, place = present.layout, present.layout.site
    now = place.elevation.si if place.elevation is not None else _equivalent_elevation(place)

    return Variation(
        kind=Kind.ELEVATION,
        now=now,
        worst=SITES[1],
        best=SITES[0],
        change=lambda to: inputs.elevation(layout, (), to, present.level),
        meaning="elevation above the sea on a standard day",
        slope=10.0,
        tolerance=1e-3,
    )


def _equivalent_elevation(site: Site) -> float:
    """Where the standard atmosphere has the pressure that the barometer shows [m]."""
    pressure = site.barometer.si if site.barometer is not None else flow.SEA_LEVEL

    def difference(z: float) -> float:
        return flow.station_pressure.scalar(z) - pressure

    return crossing(difference, SITES[0], SITES[1], 1000.0, 1e-6, 1e-6).at


def speed(present: Solution, ledger: PumpLedger) -> Variation:
    layout, pump = present.layout, present.layout.pumps[ledger.pump]
    by_speed = pump.speed is not None
    now = pump.speed.si if pump.speed is not None else ledger.flow

    varied = INPUTS["speed" if by_speed else "flow"]
    least, most = varied.searched
    return Variation(
        kind=varied.kind,
        now=now,
        worst=now * most,
        best=now * least,
        change=lambda to: varied.put(layout, (pump.name,), to, present.level),
        meaning="with the flow in proportion" if by_speed else "in place of a speed, as none is given",
        tolerance=1e-9 * now,
        name="" if by_speed else "highest flow",
    )


def dirt(present: Solution, ledger: PumpLedger) -> Variation | str:
    layout = present.layout
    for name in line_parts(ledger):
        part = layout.intakes.get(name) or layout.fittings.get(name)
        if part is not None and part.screen is not None:
            break
    else:
        return "there is no strainer on the way to the pump"
    return Variation(
        kind=Kind.SHARE,
        now=part.screen.blocked,
        worst=max(INPUTS["blocked"].searched[1], part.screen.blocked),
        best=0.0,
        change=lambda to: inputs.blocked(layout, (name,), to, present.level),
        meaning=f"blinded share of {name}",
        best_is="with a clean screen",
        note="" if part.screen.bypass is None else "once its bypass opens, blinding costs no more",
    )


def density(present: Solution, ledger: PumpLedger) -> Variation:
    layout = present.layout
    return Variation(
        kind=Kind.DENSITY,
        now=present.fluid.density,
        worst=INPUTS["density"].searched[1],
        best=INPUTS["density"].searched[0],
        change=lambda to: inputs.density(layout, (), to, present.level),
        meaning="density at working temperature",
        tolerance=1e-6,
        note="the viscosity stays as it is",
    )


def _length(si: float) -> Quantity:
    return Quantity(f"{si!r} m", si)
