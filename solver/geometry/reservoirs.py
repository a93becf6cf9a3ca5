"""Reservoirs: their outline, their fluid and the gas above it, and what of the line lies in them.

Lengths and elevations in metres; y is up.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

import shapely

from solver.formulas import flow
from solver.formulas.worked import Worked, work
from solver.geometry.outline import NEAR, XY, bore, corners, length_text, place_text, position
from solver.layout.parts import Layout, Level, Pump, Reservoir, Run, Site
from solver.layout.shapes import polygon
from solver.properties.atmosphere import station_pressure
from solver.quantities import columns

LEAST_GAS = 1e-9
"""Taken for the gas in a reservoir full to its rim [m³], so that what is drawn out leaves a vacuum."""

LEAST_SIDE = 1e-9
"""Area of a side of a hump, under which it holds nothing [m²]."""

ON_THE_FLOOR = 1e-3
"""A baffle that ends no higher than this above the floor lets nothing pass under it [m]."""

OVER_A_LID = 0.10
"""Room between a tank's rim and the port of a pump that stands on it [m]; ours."""

OVER_A_FLOOR = 0.10
"""Room between a floor or the ground and the lower edge of the port of a pump that stands there [m]; ours."""


def level(reservoir: Reservoir, which: Level) -> float:
    """Elevation of a reservoir's fluid surface [m]: its own level where it has one, else that of `which`."""
    if reservoir.level is not None:
        return reservoir.level.si
    if which == Level.DRAWN_DOWN:
        return drawn_down(reservoir)
    return (reservoir.minimum_level if which == Level.MINIMUM else reservoir.normal_level).si


def highest_level(reservoir: Reservoir) -> float:
    """The highest elevation at which a reservoir's fluid is drawn [m]."""
    own = () if reservoir.level is None else (reservoir.level.si,)
    return max(reservoir.normal_level.si, reservoir.minimum_level.si, *own)


@columns.remembered(256)
def drawn_down(reservoir: Reservoir) -> float:
    """Elevation of the fluid after cylinders have drawn their volume out, from the normal level [m].

    The minimum level where their volume is not known, the floor where more is drawn than there is. Below the
    top of a baffle that stands on the floor, the suction side alone goes on falling.
    """
    normal = reservoir.normal_level.si
    if reservoir.draw_down is None:
        return reservoir.minimum_level.si
    return columns.each(
        lambda volume, top: _level_after(_falling(reservoir), top, volume / reservoir.depth.si),
        reservoir.draw_down.si,
        normal,
    )


def volume_drawn(reservoir: Reservoir, surface: float) -> float:
    """Volume that has been drawn out where the fluid has fallen from its normal level to a surface [m³]."""
    return _between(_falling(reservoir), surface, reservoir.normal_level.si) * reservoir.depth.si


def _level_after(shape: shapely.Polygon, top: float, area: float) -> float:
    """Where a surface comes to that falls from `top` [m] until it has swept an area of a shape [m²].

    Between two corners the width of a shape is linear in height, so its area is a parabola in the fall.
    """
    heights = sorted({float(y) for _, y in shapely.get_coordinates(shape) if y < top}, reverse=True)
    for upper, lower in pairwise([top, *heights]):
        height = upper - lower
        whole, half = _between(shape, lower, upper), _between(shape, (lower + upper) / 2, upper)
        if area <= whole:
            widens = (4 * whole - 8 * half) / height**2  # growth of the width over the fall
            wide = whole / height - widens * height / 2
            root = columns.sqrt(max(wide * wide + 2 * widens * area, 0.0))
            return upper - (2 * area / (wide + root) if wide + root > 0 else 0.0)
        area -= whole
    return heights[-1] if heights else top


def _between(shape: shapely.Polygon, low: float, high: float) -> float:
    left, _, right, _ = shape.bounds
    return float(shape.intersection(shapely.box(left - 1, low, right + 1, high)).area)


def _falling(reservoir: Reservoir) -> shapely.Polygon:
    """What a falling surface sweeps. Behind a baffle that stands on the floor, nothing under its top, nor
    behind a hump in the floor."""
    whole = polygon(reservoir.outline)
    baffle = reservoir.baffle
    if baffle is not None and not passes_under(reservoir):
        left, _, right, rim = whole.bounds
        over = shapely.box(left - 1, baffle.top.si, right + 1, max(rim, baffle.top.si) + 1)
        whole = whole.intersection(over).union(suction_side(reservoir))
    return _reached(whole, reservoir.intakes_at) if reservoir.has_several_low_places else whole


def _reached(shape: shapely.Polygon, intakes: Sequence[XY]) -> shapely.Polygon:
    """What of a shape runs to intakes as its surface falls: under a hump, the side that has one alone; of
    several such sides, or where none has one, the smallest."""
    left, floor, right, rim = shape.bounds
    for height in sorted({float(y) for _, y in shapely.get_coordinates(shape)}, reverse=True):
        under = shape.intersection(shapely.box(left - 1, floor - 1, right + 1, height))
        sides = [side for side in shapely.get_parts(under) if side.area > LEAST_SIDE]
        if len(sides) > 1:
            near = [side for side in sides if any(side.distance(shapely.Point(at)) < NEAR for at in intakes)]
            lowest = min(near or sides, key=lambda side: float(side.area))
            above = shape.intersection(shapely.box(left - 1, height, right + 1, rim + 1))
            return above.union(_reached(lowest, intakes))
    return shape


def passes_under(reservoir: Reservoir) -> bool:
    """Whether fluid passes under a reservoir's baffle; True without one."""
    baffle = reservoir.baffle
    if baffle is None:
        return True
    bottom = baffle.bottom.si if baffle.bottom is not None else -float("inf")
    return bottom > floor_under(reservoir, baffle.x.si) + ON_THE_FLOOR


def suction_side(reservoir: Reservoir) -> shapely.Polygon:
    """The part of a reservoir's outline from which its pumps draw.

    With a baffle, the side without the return; where no return is drawn, the smaller one. Else all of it.
    """
    whole = polygon(reservoir.outline)
    if reservoir.baffle is None:
        return whole
    x = reservoir.baffle.x.si
    left, floor, right, rim = whole.bounds
    sides = [
        whole.intersection(shapely.box(left - 1, floor - 1, x, rim + 1)),
        whole.intersection(shapely.box(x, floor - 1, right + 1, rim + 1)),
    ]
    if reservoir.return_at is None:
        return min(sides, key=lambda side: float(side.area))
    return sides[1] if reservoir.return_at[0].si < x else sides[0]


def floor_under(reservoir: Reservoir, x: float) -> float:
    """Elevation of the lowest point of a reservoir's outline straight under or over x [m]."""
    corners = [(px.si, py.si) for px, py in reservoir.outline]
    heights = []
    for (x0, y0), (x1, y1) in pairwise([*corners, corners[0]]):
        if min(x0, x1) <= x <= max(x0, x1):
            heights.append(min(y0, y1) if x0 == x1 else y0 + (y1 - y0) * (x - x0) / (x1 - x0))
    return min(heights, default=min(y for _, y in corners))


class PressureChange(NamedTuple):
    """What adds to the pressure on a reservoir's fluid beside its own gauge pressure."""

    name: str
    value: float  # [Pa]
    note: str
    source: str
    worked: Worked | None = None
    estimated: bool = False


def lowest_drawn(layout: Layout) -> float:
    """The lowest floor of a tank or port of a pump [m]."""
    tanks = [y.si for tank in layout.reservoirs.values() for _, y in tank.outline]
    return min(tanks + [pump.at[1].si for pump in layout.pumps.values()])


def ground(layout: Layout) -> float:
    """The height of the ground [m]: 0 m, or the lowest thing drawn where that is below."""
    return min(0.0, lowest_drawn(layout))


def lowest_port(layout: Layout, pump: Pump, floor: float) -> float:
    """How low the port of a pump can come at its place [m]: down to a lid under it, else to a floor [m]."""
    return max([_over(pump, floor), *(rim + OVER_A_LID for _, _, rim in _lids_under(layout, pump))])


def lid(reservoir: Reservoir) -> tuple[float, float]:
    """Width and depth of what covers a reservoir, seen from above [m]: pressure on its fluid lifts that."""
    left, _, right, _ = polygon(reservoir.outline).bounds
    return float(right - left), reservoir.depth.si


def no_place(layout: Layout, pump: str, reservoir: str, height: float) -> str:
    """Why a pump cannot stand with its port at a height [m], such as "below the ground"; "" where it can.

    reservoir: that the pump draws from. A pump stands where it is drawn, and at any height over that.
    """
    drawn = layout.pumps[pump]
    if height >= drawn.at[1].si:
        return ""
    for name, bottom, rim in _lids_under(layout, drawn):
        if bottom < height < rim + OVER_A_LID:
            return _too_low(height, rim, "the tank's lid" if name == reservoir else f"the lid of {name}")
    level = ground(layout)
    if height >= _over(drawn, level):
        return ""
    floor = polygon(layout.reservoirs[reservoir].outline).bounds[1]
    return _too_low(height, level, "the tank's floor" if floor <= level else "the ground")


def _too_low(height: float, level: float, what: str) -> str:
    return f"below {what}" if height < level else f"too near {what}"


def _over(pump: Pump, floor: float) -> float:
    """The lowest that a port can be over what its pump stands on [m]."""
    return floor + bore(pump) / 2 + OVER_A_FLOOR


def _lids_under(layout: Layout, pump: Pump) -> Iterator[tuple[str, float, float]]:
    """The tanks that a port is drawn over: name, floor and rim [m]."""
    x, y = (coordinate.si for coordinate in pump.at)
    for name, tank in layout.reservoirs.items():
        left, floor, right, rim = polygon(tank.outline).bounds
        if left <= x <= right and y >= rim:
            yield name, floor, rim


def pressure_change(reservoir: Reservoir, which: Level, site: Site) -> PressureChange | None:
    """What a breather takes, or gas that is shut in and expands; None where the pressure is as typed.

    Parameters: `which` level is used, a `Level`; `site`, for the atmosphere.
    Source: Boyle's law, from the normal level on, at one temperature.
    """
    if reservoir.breather_drop is not None:
        return PressureChange("breather", -reservoir.breather_drop.si, "drop across the breather", "as typed")
    if not reservoir.sealed:
        return None
    gauge = reservoir.pressure.si if reservoir.pressure is not None else 0.0
    weather = site.weather_allowance.si if site.weather_allowance is not None else 0.0
    room, fallen = _gas(reservoir, which)
    gas = work(flow.shut_in_gas, station_pressure(site) - weather, gauge, room, fallen)
    return PressureChange("gas expansion", gas.value - gauge, "the gas is shut in", flow.BOYLE, gas)


@columns.remembered(256)
def _gas(reservoir: Reservoir, which: Level) -> tuple[float, float]:
    """Gas above the normal level, and what it gains down to another level [m³]."""
    rim, depth = polygon(reservoir.outline).bounds[3], reservoir.depth.si
    normal, fluid_level = reservoir.normal_level.si, level(reservoir, which)
    room = columns.each(lambda low: max(volume_between(reservoir, low, rim), LEAST_GAS), normal)
    # Over its normal level the gas would be pressed together: no credit is given for that.
    swept = columns.each(
        lambda low, high: _between(_falling(reservoir), low, high) if low < high else 0.0, fluid_level, normal
    )
    return room, swept * depth


def gauge(reservoir: Reservoir, which: Level, site: Site) -> float:
    """Gauge pressure on a reservoir's fluid [Pa]. Parameters as `pressure_change`."""
    typed = reservoir.pressure.si if reservoir.pressure is not None else 0.0
    change = pressure_change(reservoir, which, site)
    return typed if change is None else typed + change.value


def volume(reservoir: Reservoir, surface: float) -> float:
    """Fluid a reservoir holds up to an elevation [m], as [m³]."""
    return volume_between(reservoir, polygon(reservoir.outline).bounds[1], surface)


def volume_between(reservoir: Reservoir, low: float, high: float) -> float:
    """Fluid a reservoir holds between two elevations [m], as [m³]; none where `high` is not above `low`."""
    return _between(polygon(reservoir.outline), low, high) * reservoir.depth.si if high > low else 0.0


def suction_volume(reservoir: Reservoir, surface: float) -> float:
    """Fluid on the suction side of a reservoir's baffle up to an elevation [m], as [m³]; all without one."""
    side = suction_side(reservoir)
    floor = side.bounds[1]
    return _between(side, floor, surface) * reservoir.depth.si if surface > floor else 0.0


def wall_crossings(layout: Layout, run: Run) -> tuple[tuple[str, XY], ...]:
    """Where a run passes through the outline of a reservoir, in its own order: ((reservoir, (x, y)), ...)."""
    line = shapely.LineString(corners(layout, run))
    crossings: list[tuple[float, str, XY]] = []
    for name, reservoir in layout.reservoirs.items():
        crossing = line.intersection(polygon(reservoir.outline).exterior)
        for point in shapely.get_coordinates(crossing):
            crossings.append((line.project(shapely.Point(point)), name, (float(point[0]), float(point[1]))))
    return tuple((name, at) for _, name, at in sorted(crossings))


def reservoir_problems(layout: Layout) -> list[tuple[str, str]]:
    """What is wrong with the reservoirs and with where the intakes stand in them, ((part, text), ...)."""
    problems: list[tuple[str, str]] = []
    shapes = {}
    for name, reservoir in layout.reservoirs.items():
        shape = shapes[name] = polygon(reservoir.outline)
        if not shape.is_valid:
            problems.append((name, "its outline crosses itself"))
            continue
        problems += _level_problems(layout, reservoir, shape.bounds[1], shape.bounds[3])
    for name, intake in layout.intakes.items():
        inside = shapes.get(intake.reservoir)
        at = position(intake)
        if inside is None:
            problems.append((name, f"there is no reservoir {intake.reservoir!r}"))
        elif inside.is_valid and inside.distance(shapely.Point(at)) > NEAR:
            problems.append((name, f"lies outside {intake.reservoir}, at {place_text(layout, at)}"))
    return problems


def _level_problems(layout: Layout, reservoir: Reservoir, floor: float, rim: float) -> list[tuple[str, str]]:
    problems = []
    for which in (Level.NORMAL, Level.MINIMUM):
        surface = level(reservoir, which)
        if surface > rim + NEAR:
            text = f"its {which} level {length_text(layout, surface)} is above the rim at"
            problems.append((reservoir.name, f"{text} {length_text(layout, rim)}"))
        elif surface < floor - NEAR:
            text = f"its {which} level {length_text(layout, surface)} is under the floor at"
            problems.append((reservoir.name, f"{text} {length_text(layout, floor)}"))
    if reservoir.sealed and reservoir.normal_level.si > rim - NEAR:
        problems.append((reservoir.name, "is sealed and full to its rim: no gas is left that could expand"))
    if reservoir.minimum_level.si > reservoir.normal_level.si + NEAR:
        problems.append((reservoir.name, "its minimum level is above its normal level"))
    return problems


def intakes_above(layout: Layout, which: Level, shut: Collection[str] = ()) -> tuple[tuple[str, str], ...]:
    """Intakes that stand above the fluid and so draw air, ((part, text), ...).

    `which` is the level in use, a `Level`; `shut` are the intakes behind closed valves, which draw
    nothing.
    """
    problems = []
    for name, intake in layout.intakes.items():
        if name in shut:
            continue
        surface = level(layout.reservoirs[intake.reservoir], which)
        if intake.at[1].si > surface + NEAR:
            height = length_text(layout, intake.at[1].si)
            named = "level" if layout.reservoirs[intake.reservoir].level is not None else f"{which} level"
            text = f"stands at {height}, above the {named} of {intake.reservoir} at"
            problems.append((name, f"{text} {length_text(layout, surface)}"))
    return tuple(problems)
