"""What a drawing leaves untyped, and what is taken in its place where that changes a ledger."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial

from solver.findings.line import THROAT
from solver.layout.kinds import Bend, FittingKind, IntakeKind, LimitForm, PumpType
from solver.layout.parts import Fitting, Layout, Pump, Run, Site
from solver.ledger.maker_fluid import holds_for, names_another, petroleum_density, rated_on_water
from solver.ledger.solve import Solution
from solver.network.walls import material
from solver.properties.families import catalogue
from solver.properties.fluid import FluidState
from solver.properties.sizes import ROUGHNESS, ROUGHNESS_SOURCE
from solver.quantities.units import Kind, Quantity, System, typeset
from solver.quantities.wording import significant

NAMED = 6
"""Names of parts in one line at most; the others are counted."""

VALVES = frozenset(kind for kind in FittingKind if "valve" in kind)


def defaults(solution: Solution, system: System) -> Iterator[str]:
    """One line for each thing that is not typed, whatever the number of parts it is taken for."""
    layout = solution.layout
    yield from _walls(layout.runs.values(), system)
    yield from _lines(layout)
    yield from _pumps(layout, solution.fluid, system)
    yield from _of_site(layout.site, system)
    yield from _fluid(layout, solution)
    yield from _reservoirs(layout)
    yield from _mouths(layout)


def _walls(runs: Iterable[Run], system: System) -> Iterator[str]:
    """Roughness of the walls by material, since nobody types that of each run."""
    by_material: dict[str, list[Run]] = {}
    for run in runs:
        if run.roughness is None:
            by_material.setdefault(material(run), []).append(run)
    for wall, rough in by_material.items():
        height = significant(ROUGHNESS[wall], Kind.BORE, system)
        text = f"{wall}: a roughness of {height} ({ROUGHNESS_SOURCE[wall]})"
        guessed = [run.name for run in rough if run.material is None]
        yield text + (f"; taken for {_names(guessed)} by the size" if guessed else "")


def _lines(layout: Layout) -> Iterator[str]:
    bent = [run.name for run in layout.runs.values() if _is_long_radius(run)]
    if bent:
        yield f"{_names(bent)}: bends of long radius, where no other kind is given"
    flat = [run.name for run in layout.runs.values() if run.out_of_plane is None]
    if flat:
        yield f"{_names(flat)}: no length out of the plane of the drawing"
    open_ = [name for name, each in layout.fittings.items() if _is_open_valve(each)]
    if open_:
        yield f"{_names(open_)}: taken as fully open"
    held = [name for name, each in layout.fittings.items() if _is_lost_at_any_flow(each)]
    if held:
        yield f"{_names(held)}: the drop is taken at any flow, as none is typed for it"


def _is_long_radius(run: Run) -> bool:
    return bool(run.via) and run.bend_radius is None and run.bend == Bend.LONG_RADIUS


def _is_open_valve(fitting: Fitting) -> bool:
    return fitting.kind in VALVES and fitting.state is None and fitting.opening is None


def _is_lost_at_any_flow(fitting: Fitting) -> bool:
    return (fitting.drop is not None or fitting.head is not None) and fitting.flow is None


def _pumps(layout: Layout, fluid: FluidState, system: System) -> Iterator[str]:
    density = typeset(petroleum_density(fluid), Kind.DENSITY, system)
    phrases: dict[str, Callable[[Pump], bool]] = {
        "the whole displacement is taken in": _takes_all,
        "the limit is taken to hold at its speed, as none is typed for it": _holds_at_its_speed,
        f"the limit is taken as stated for a fluid of {density}, as none is typed for it": partial(
            _rated_on_petroleum, fluid.name
        ),
        "the limit is taken as stated for cold water, as none is typed for it": _rated_on_water,
        "a slower speed or a lighter fluid than the maker's loosens no limit": _has_no_credit,
        "cylinders are taken as single-acting": _single_acting,
        "K of the acceleration head is taken from the kind of fluid (unverified)": _springs_by_fluid,
    }
    for text, applies in phrases.items():
        names = [pump.name for pump in layout.pumps.values() if not pump.at_rest and applies(pump)]
        if names:
            yield f"{_names(names)}: {text}"


def _takes_all(pump: Pump) -> bool:
    return pump.flow is None and pump.volumetric_efficiency is None


def _holds_at_its_speed(pump: Pump) -> bool:
    single = len(pump.limit.table) == 1 and pump.limit.table[0][0] is None
    return pump.speed is not None and pump.rated_speed is None and (single or pump.limit.over == Kind.FLOW)


def _rated_on_petroleum(fluid: str, pump: Pump) -> bool:
    named = holds_for(pump, fluid) or names_another(pump, fluid)
    stated = pump.rated_density is not None or named
    return pump.limit.form != LimitForm.NPSH and not stated and not rated_on_water(pump)


def _rated_on_water(pump: Pump) -> bool:
    return pump.limit.form != LimitForm.NPSH and pump.rated_fluid is None and rated_on_water(pump)


def _has_no_credit(pump: Pump) -> bool:
    """Whether credit is not asked for, though something that the maker states could be given it."""
    return not pump.credit and (pump.rated_speed is not None or pump.rated_density is not None)


def _single_acting(pump: Pump) -> bool:
    return pump.cylinders is not None and pump.double_acting is None and pump.cylinder_constant is None


def _springs_by_fluid(pump: Pump) -> bool:
    return pump.type == PumpType.RECIPROCATING and pump.fluid_constant is None


def _of_site(site: Site, system: System) -> Iterator[str]:
    if site.elevation is not None and site.barometer is None and site.altimeter_setting is None:
        yield f"the atmosphere is the standard one at {typeset(site.elevation.si, Kind.ELEVATION, system)}"
    if site.weather_allowance is None:
        yield "nothing is taken off the atmosphere for a low-pressure day"


def _fluid(layout: Layout, solution: Solution) -> Iterator[str]:
    fluid = layout.fluid
    if fluid.name in catalogue():
        typed = {"density": fluid.density, "viscosity": fluid.viscosity}
        typed["vapour pressure"] = fluid.vapor_pressure
        if untyped := [name for name, figure in typed.items() if figure is None]:
            words = (
                " and ".join(untyped) if len(untyped) < 3 else f"{untyped[0]}, {untyped[1]} and {untyped[2]}"
            )
            known = "by its formulas" if catalogue()[fluid.name].is_water else "as typical of its family"
            yield f"{fluid.name}: {words} {known}"
        if isinstance(fluid.density, Quantity) and not catalogue()[fluid.name].is_water:
            yield f"{fluid.name}: the density typed is that at 15 °C, and changes with temperature as usual"
    if solution.fluid is solution.tank_fluid and fluid.line_temperature is None:
        yield "the fluid in the line is as warm as in its tank"


def _reservoirs(layout: Layout) -> Iterator[str]:
    vented = [each for each in layout.reservoirs.values() if not each.sealed]
    free = [each.name for each in vented if each.pressure is None]
    breathing = [each.name for each in vented if each.breather_drop is None]
    if free and free == breathing:
        yield f"{_names(free)}: open to the air, through a breather without a pressure drop"
        return
    if free:
        yield f"{_names(free)}: open to the air"
    if breathing:
        yield f"{_names(breathing)}: the breather has no pressure drop"


def _mouths(layout: Layout) -> Iterator[str]:
    bells = [name for name, each in layout.intakes.items() if each.kind == IntakeKind.BELL_MOUTH]
    if bells:
        yield f"{_names(bells)}: {THROAT}"


def _names(names: list[str]) -> str:
    more = len(names) - NAMED
    return ", ".join(names) if more <= 0 else f"{', '.join(names[:NAMED])} and {more} more"
