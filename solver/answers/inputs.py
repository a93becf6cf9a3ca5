"""What of a drawing can be varied: unit, ranges, and the drawing with another figure in its place.

The what-if strip, edits, sweeps, backward answers and uncertainties read one table, `INPUTS`.

A figure may be a column (see `figures`); then the drawing stands for many variants at once.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from solver.geometry import moving, reservoirs
from solver.layout.kinds import REDUCER_KINDS
from solver.layout.parts import Fitting, Intake, Layout, Level, Reservoir, Run, Screen, Site
from solver.network.walls import material_without_size
from solver.properties import atmosphere, fluid
from solver.quantities import columns
from solver.quantities.units import Kind, Quantity

Parts = tuple[str, ...]

Put = Callable[[Layout, Parts, float, Level], Layout]
"""The drawing with a figure in some of its parts; the last word is the level that is looked at."""

SI: Mapping[Kind, str] = {
    Kind.LENGTH: "m",
    Kind.BORE: "m",
    Kind.ELEVATION: "m",
    Kind.TEMPERATURE: "K",
    Kind.DENSITY: "kg/m^3",
    Kind.VISCOSITY: "m^2/s",
    Kind.FLOW: "m^3/s",
    Kind.SPEED: "rev/s",
    Kind.VOLUME: "m^3",
    Kind.SHARE: "",
}

Ends = tuple[float, float]
"""The least and the most of a range [SI unit of the kind]."""

ABOVE_NOTHING = (math.nextafter(0.0, 1.0), math.inf)
ANYTHING = (-math.inf, math.inf)
BLOCKED = (0.0, 0.99)
"""Share of a screen's area that is blocked: at 1 nothing flows."""
SITES = (atmosphere.LOWEST_SITE, atmosphere.HIGHEST_SITE)
LEAST_DEPTH = 1e-3
"""Of fluid in a reservoir: a level on its very floor is none [m]."""


@dataclass(frozen=True, slots=True)
class Slider:
    """An input as the hand turns it."""

    value: Callable[[Layout, str, Level], Quantity | str]  # of a part as drawn, or why there is none
    span: Callable[[Layout, str, Level], Ends]  # how far it goes, where there is a value


@dataclass(frozen=True, slots=True)
class Input:
    """One thing that can be varied."""

    name: str
    kind: Kind
    parts: Callable[[Layout], Parts]  # that have it; ("",) where it belongs to the whole drawing
    put: Put
    allowed: Callable[[Layout, str], Ends]  # in a part, "" for the whole drawing
    reshapes: bool = False  # the rows of any network change with it; see `reshapes`
    searched: Ends = ANYTHING  # how far a question looks; of a speed or flow in multiples of the present one
    slider: Slider | None = None
    apart: Callable[[Layout], Parts] = lambda layout: ()  # that are meant only when named

    @property
    def unit(self) -> str:
        """The SI unit it is given in."""
        return SI[self.kind]


def typed(value: float, kind: Kind) -> Quantity:
    """A figure as a drawing holds it, exact: its text has every digit. [SI unit of the kind]"""
    return Quantity(f"{columns.first(value)!r} {SI[kind]}".rstrip(), value)


def _exact(old: Quantity, si: float, kind: Kind = Kind.LENGTH) -> Quantity:
    return old if not columns.is_column(si) and si == old.si else typed(si, kind)


def temperature(layout: Layout, parts: Parts, value: float, level: Level) -> Layout:
    """The fluid at another temperature [K]."""
    return _with_fluid(layout, temperature=typed(value, Kind.TEMPERATURE))


def density(layout: Layout, parts: Parts, value: float, level: Level) -> Layout:
    """The density at working temperature, with the viscosity as it is."""
    own = ((layout.fluid.temperature, typed(value, Kind.DENSITY)),)
    return _with_fluid(layout, density=own, **_in_line(layout, "density", value, Kind.DENSITY))


def viscosity(layout: Layout, parts: Parts, value: float, level: Level) -> Layout:
    """The viscosity at working temperature, with the density as it is."""
    in_line = _in_line(layout, "viscosity", value, Kind.VISCOSITY)
    return _with_fluid(layout, viscosity=typed(value, Kind.VISCOSITY), viscosity_index=None, **in_line)


def _in_line(layout: Layout, name: str, value: float, kind: Kind) -> dict[str, Quantity]:
    """The figure in a line that is not as warm as the tank, which follows that in the tank in proportion."""
    if layout.fluid.line_temperature is None:
        return {}
    tank = fluid.state(layout.fluid)
    line = fluid.line_state(layout.fluid, tank)
    return {f"line_{name}": typed(value * getattr(line, name) / getattr(tank, name), kind)}


def elevation(layout: Layout, parts: Parts, value: float, level: Level) -> Layout:
    """The site on a standard day, in place of a barometer reading."""
    site = Site(typed(value, Kind.ELEVATION), weather_allowance=layout.site.weather_allowance)
    return replace(layout, site=site)


def fluid_level(layout: Layout, parts: Parts, value: float, level: Level) -> Layout:
    """The level that is looked at; the other one gives way, as the minimum is never above the normal one.

    A level that is drawn down is so by the volume drawn from the normal one. Where a case has the fluid at a
    figure of its own, that figure is the level.
    """
    return _with(layout, parts, lambda tank: _filled(tank, value, level))


def _filled(tank: Reservoir, value: float, level: Level) -> dict[str, Any]:
    low, high = tank.minimum_level, tank.normal_level
    if tank.level is not None:
        return {"level": _exact(tank.level, value)}
    if level == Level.MINIMUM:
        return {
            "minimum_level": _exact(low, value),
            "normal_level": _exact(high, columns.largest(value, high.si)),
        }
    if level == Level.DRAWN_DOWN and value < high.si:
        volume = columns.each(lambda surface: reservoirs.volume_drawn(tank, surface), value)
        return {"draw_down": typed(volume, Kind.VOLUME)}
    levels = {"minimum_level": _exact(low, columns.least(value, low.si)), "normal_level": _exact(high, value)}
    return levels if level == Level.NORMAL else {**levels, "draw_down": typed(0.0, Kind.VOLUME)}


def flow(layout: Layout, parts: Parts, value: float, level: Level) -> Layout:
    """The flow of pumps, typed [m³/s]; their speed stays as it is."""
    quantity = typed(value, Kind.FLOW)
    return _with(layout, parts, lambda pump: {"flow": quantity})


def speed(layout: Layout, parts: Parts, value: float, level: Level) -> Layout:
    """The speed of a pump; a flow that was typed goes in proportion."""
    turning = typed(value, Kind.SPEED)

    def at(pump: Any) -> dict[str, Any]:
        if pump.flow is None:
            return {"speed": turning}
        return {"speed": turning, "flow": typed(pump.flow.si * value / pump.speed.si, Kind.FLOW)}

    return _with(layout, parts, at)


def port_height(layout: Layout, parts: Parts, value: float, level: Level) -> Layout:
    """The elevation of a pump's port, its lines stretched after it."""
    for part in parts:
        layout = moving.move_part(layout, part, layout.pumps[part].at[0].si, value, _exact)
    return layout


def bore(layout: Layout, parts: Parts, value: float, level: Level) -> Layout:
    """One bore, in place of a standard size; a run stays made of what it is."""
    width = typed(value, Kind.BORE)

    def changes(part: Any) -> dict[str, Any]:
        made_of = {"material": material_without_size(part)} if isinstance(part, Run) else {}
        return {"bore": width, "size": None, **made_of}

    return _with(layout, parts, changes)


def roughness(layout: Layout, parts: Parts, value: float, level: Level) -> Layout:
    """The roughness of the wall of runs [m]."""
    wall = typed(value, Kind.BORE)
    return _with(layout, parts, lambda run: {"roughness": wall})


def screen_put(layout: Layout, name: str, screen: Screen) -> Layout:
    """The drawing with another screen in one of its parts that has one."""
    return _with(layout, (name,), lambda part: {"screen": screen})


def blocked(layout: Layout, parts: Parts, value: float, level: Level) -> Layout:
    """The blocked share of a screen's area."""
    return _with(layout, parts, lambda part: {"screen": replace(part.screen, blocked=value)})


def _with_fluid(layout: Layout, **changes: Any) -> Layout:
    return replace(layout, fluid=replace(layout.fluid, **changes))


def _with(layout: Layout, names: Parts, changes: Callable[[Any], dict[str, Any]]) -> Layout:
    """The drawing with what `changes` says of each of some parts."""
    chosen, groups = set(names), {}
    for group in ("runs", "fittings", "tees", "intakes", "pumps", "reservoirs"):
        parts: Mapping[str, Any] = getattr(layout, group)
        if not chosen.isdisjoint(parts):
            groups[group] = {k: replace(p, **changes(p)) if k in chosen else p for k, p in parts.items()}
    swapped: dict[str, Any] = groups
    return replace(layout, **swapped)


def reshapes(layout: Layout, varied: Input) -> bool:
    """Whether the rows of a drawing's network change with an input.

    The figure of a known drop at a known flow hangs on the density that it was read with.
    """
    by_density = any(
        (f.drop is not None or f.head is not None) and f.flow is not None for f in layout.fittings.values()
    )
    return varied.reshapes or (by_density and varied.name in ("temperature", "density"))


def _whole(layout: Layout) -> Parts:
    return ("",)


def _pumps(layout: Layout) -> Parts:
    return tuple(layout.pumps)


def _turning(layout: Layout) -> Parts:
    return tuple(name for name, pump in layout.pumps.items() if pump.speed is not None)


def _reservoirs(layout: Layout) -> Parts:
    return tuple(layout.reservoirs)


def _runs(layout: Layout) -> Parts:
    return tuple(layout.runs)


def _bored(layout: Layout) -> Parts:
    return (*layout.runs, *layout.fittings, *layout.tees, *layout.intakes, *layout.pumps)


def _ends(layout: Layout) -> Parts:
    """What ends a line of one bore: the pumps' ports, and reducers, whose ends differ."""
    return (*layout.pumps, *(name for name, f in layout.fittings.items() if f.kind in REDUCER_KINDS))


def _screened(layout: Layout) -> Parts:
    held: dict[str, Intake | Fitting] = {**layout.intakes, **layout.fittings}
    return tuple(name for name, part in held.items() if part.screen is not None)


def _always(least: float, most: float) -> Callable[[Layout, str], Ends]:
    return lambda layout, part: (least, most)


def _inside(layout: Layout, part: str) -> Ends:
    """From the floor of a reservoir to its rim."""
    heights = [y.si for _, y in layout.reservoirs[part].outline]
    return min(heights), max(heights)


def level_range(tank: Reservoir, level: Level) -> Ends:
    """The least and the most of a level while the other one stays as it is [m]."""
    heights = [y.si for _, y in tank.outline]
    bottom, rim = min(heights) + LEAST_DEPTH, max(heights)
    if level == Level.MINIMUM:
        return bottom, min(rim, tank.normal_level.si)
    return max(bottom, tank.minimum_level.si), rim


def _port_now(layout: Layout, part: str, level: Level) -> Quantity | str:
    return layout.pumps[part].at[1] if part in layout.pumps else "no pump yet"


def _port_span(layout: Layout, part: str, level: Level) -> Ends:
    heights = [y.si for tank in layout.reservoirs.values() for _, y in tank.outline] or [0.0, 1.0]
    y = layout.pumps[part].at[1].si
    return min(min(heights), y) - 0.5, max(max(heights) + 1.5, y + 1.0)


def _temperature_now(layout: Layout, part: str, level: Level) -> Quantity | str:
    return layout.fluid.temperature


def _temperature_span(layout: Layout, part: str, level: Level) -> Ends:
    now = layout.fluid.temperature.si
    return min(268.15, now), max(353.15, now)


def _level_now(layout: Layout, part: str, level: Level) -> Quantity | str:
    if part not in layout.reservoirs:
        return "no tank yet"
    tank = layout.reservoirs[part]
    return tank.minimum_level if level == Level.MINIMUM else tank.normal_level


def _level_span(layout: Layout, part: str, level: Level) -> Ends:
    return level_range(layout.reservoirs[part], level)


def _speed_now(layout: Layout, part: str, level: Level) -> Quantity | str:
    if part not in layout.pumps:
        return "no pump yet"
    pump = layout.pumps[part]
    return "flow is typed and stays" if pump.flow is not None or pump.speed is None else pump.speed


def _speed_span(layout: Layout, part: str, level: Level) -> Ends:
    speed = layout.pumps[part].speed
    now = speed.si if speed is not None else 0.0
    return min(5.0, now), max(50.0, now * 1.25)


def _elevation_now(layout: Layout, part: str, level: Level) -> Quantity | str:
    given = layout.site.elevation if layout.site.barometer is None else None
    return given if given is not None else "a barometer is typed"


def _elevation_span(layout: Layout, part: str, level: Level) -> Ends:
    now = layout.site.elevation.si if layout.site.elevation is not None else 0.0
    return min(0.0, now), max(4000.0, now)


def _blocked_now(layout: Layout, part: str, level: Level) -> Quantity | str:
    screen = layout.screen(part)
    if screen is None:
        return "no strainer here"
    return Quantity(f"{screen.blocked * 100:g} %", screen.blocked)


def _blocked_span(layout: Layout, part: str, level: Level) -> Ends:
    screen = layout.screen(part)
    return BLOCKED[0], max(BLOCKED[1], screen.blocked if screen is not None else 0.0)


INPUTS: Mapping[str, Input] = {
    row.name: row
    for row in (
        Input("port height", Kind.LENGTH, _pumps, port_height, _always(*ANYTHING), reshapes=True,
              slider=Slider(_port_now, _port_span)),
        Input("bore", Kind.BORE, _bored, bore, _always(*ABOVE_NOTHING), reshapes=True,
              searched=(0.003, 1.0), apart=_ends),
        Input("roughness", Kind.BORE, _runs, roughness, _always(0.0, math.inf), reshapes=True),
        Input("blocked", Kind.SHARE, _screened, blocked, _always(*BLOCKED), reshapes=True, searched=BLOCKED,
              slider=Slider(_blocked_now, _blocked_span)),
        Input("temperature", Kind.TEMPERATURE, _whole, temperature, _always(*ABOVE_NOTHING), reshapes=False,
              searched=(203.15, 473.15), slider=Slider(_temperature_now, _temperature_span)),
        Input("density", Kind.DENSITY, _whole, density, _always(*ABOVE_NOTHING), reshapes=False,
              searched=(500.0, 3000.0)),
        Input("viscosity", Kind.VISCOSITY, _whole, viscosity, _always(*ABOVE_NOTHING)),
        Input("elevation", Kind.ELEVATION, _whole, elevation, _always(*SITES), reshapes=False, searched=SITES,
              slider=Slider(_elevation_now, _elevation_span)),
        Input("level", Kind.LENGTH, _reservoirs, fluid_level, _inside,
              slider=Slider(_level_now, _level_span)),
        Input("speed", Kind.SPEED, _turning, speed, _always(*ABOVE_NOTHING), reshapes=False,
              searched=(0.02, 5.0), slider=Slider(_speed_now, _speed_span)),
        Input("flow", Kind.FLOW, _pumps, flow, _always(*ABOVE_NOTHING), reshapes=False, searched=(0.02, 5.0)),
    )
}  # fmt: skip
"""In the order in which they are put: a port is moved before the line it pulls changes its bore, and a flow
stands whatever the speed."""
