"""Every change the hand can make to a drawing, as a pure function Layout -> Layout.

A new value is written in the unit the old one was typed in; a `Quantity` that somebody typed stays as typed.
What the layout file would refuse on reading is refused here (`EditError`), so that a drawing can always be
saved and opened again. What is well formed but cannot be calculated is no error here: it is a drawing that
the window shows as refused.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar, cast

from solver.answers import inputs
from solver.geometry import outline, reservoirs
from solver.layout import raw
from solver.layout.parts import Fitting, Intake, Layout, Level, Pump, Reservoir, Screen, Tee
from solver.properties import fluid
from solver.quantities import units
from solver.quantities.spelling import with_unit
from solver.quantities.units import Kind, Quantity, System, UnitError
from solver.quantities.wording import QuotingError

T = TypeVar("T")

Value = float | Quantity
"""A number in SI, or a quantity as somebody typed it."""

SAME = 1e-9  # in SI; below it a value counts as unchanged and keeps its text
LENGTH_STEP = 1e-4  # to which lengths are written [m]


class EditError(QuotingError):
    """A change that makes no valid drawing; the message says why, for the person who tried it."""


def si_of(value: Value) -> float:
    """The number in SI. Raises EditError when it is not finite."""
    number = value.si if isinstance(value, Quantity) else float(value)
    if not math.isfinite(number):
        raise EditError("not a finite number")
    return number


def place_wanted(system: System) -> str:
    """How a place is typed, with an example in the units shown."""
    example = "4 ft; 2 ft 6 in" if system is System.US else "1.2 m; 0.8 m"
    return f"a place is typed as x; height, such as {example}"


def read_typed(text: str, kind: Kind, system: System) -> Quantity:
    """What was typed; a bare number is in the unit shown. Raises EditError."""
    full = with_unit(text, units.unit(kind, system))
    try:
        return units.quantity(full, kind)
    except UnitError as error:
        raise EditError(f"{error.found}. Allowed: {error.allowed}") from error


def renew(old: Quantity, value: Value, kind: Kind) -> Quantity:
    """`value` in the unit of `old`, `old` itself where nothing changes, or the quantity as typed."""
    number = si_of(value)
    if isinstance(value, Quantity):
        return value
    return old if abs(number - old.si) <= SAME else units.in_unit_of(old, number, kind)


def place(layout: Layout, name: str) -> tuple[float, float]:
    """Where a part that runs end on is drawn, (x, y) [m]. Raises KeyError."""
    return outline.position(layout.joint(name))


def corner(layout: Layout, run: str, index: int) -> tuple[float, float]:
    """Where corner `index` of a run is, (x, y) [m]. Raises KeyError or IndexError."""
    x, y = layout.runs[run].via[index]
    return x.si, y.si


def move_part(layout: Layout, name: str, x: float, y: float, *, alone: bool = False) -> Layout:
    """The part at (x, y) [m]; the runs on it stretch and stay square.

    The connector at a pump's port goes with the pump, unless that is moved `alone`.

    Raises EditError where an intake would leave its tank.
    """
    si_of(x), si_of(y)
    old_x, old_y = place(layout, name)
    if abs(x - old_x) <= SAME and abs(y - old_y) <= SAME:
        return layout
    moved = _unmoved_text(layout, outline.move_part(layout, name, x, y, alone=alone), name)
    if name in layout.intakes:
        _check_in_tank(moved, name)
    return moved


def move_corner(layout: Layout, run: str, index: int, x: float, y: float) -> Layout:
    """Corner `index` of the run at (x, y) [m], its legs square as before. Raises EditError if not finite."""
    si_of(x), si_of(y)
    old_x, old_y = corner(layout, run, index)
    if abs(x - old_x) <= SAME and abs(y - old_y) <= SAME:
        return layout
    return outline.move_corner(layout, run, index, x, y)


def set_port_height(layout: Layout, pump: str, y: Value) -> Layout:
    """The pump's port at elevation `y` [m], straight above or below where it is."""
    x, _ = place(layout, pump)
    moved = move_part(layout, pump, x, si_of(y))
    part = moved.pumps[pump]
    height = renew(layout.pumps[pump].at[1], y, Kind.LENGTH)
    if part.at[1] == height:
        return moved
    return with_joint(moved, replace(part, at=(part.at[0], height)))


def set_level(layout: Layout, reservoir: str, which: Level, y: Value) -> Layout:
    """The "minimum" or "normal" fluid level at elevation `y` [m].

    Raises EditError outside the tank, or where the minimum would stand above the normal level.
    """
    tank = layout.reservoirs[reservoir]
    low, high = inputs.level_range(tank, which)
    if not low - SAME <= si_of(y) <= high + SAME:
        raise EditError(_level_text(tank, which, si_of(y)))
    old = tank.minimum_level if which == Level.MINIMUM else tank.normal_level
    level = renew(old, y, Kind.LENGTH)
    if not low <= level.si <= high:  # by the rounding of its text alone
        inward = math.copysign(2 * LENGTH_STEP, low - level.si)
        level = units.in_unit_of(old, level.si + inward, Kind.LENGTH)
    new = replace(tank, minimum_level=level) if which == Level.MINIMUM else replace(tank, normal_level=level)
    return layout if new == tank else replace(layout, reservoirs={**layout.reservoirs, reservoir: new})


def set_temperature(layout: Layout, temperature: Value) -> Layout:
    """The fluid at `temperature` [K]. Raises EditError outside the range of the fluid's data."""
    choice = replace(layout.fluid, temperature=renew(layout.fluid.temperature, temperature, Kind.TEMPERATURE))
    if choice == layout.fluid:
        return layout
    try:
        fluid.state(choice)
    except fluid.FluidError as error:
        raise EditError.quoting(error) from error
    return replace(layout, fluid=choice)


def set_speed(layout: Layout, pump: str, speed: Value) -> Layout:
    """The pump at `speed` [rev/s]. Raises EditError at zero, or where the pump is given by its flow."""
    part = layout.pumps[pump]
    if part.speed is None:
        raise EditError("this pump is given by its flow")
    if si_of(speed) <= 0:
        raise EditError("the speed must be above zero")
    new = replace(part, speed=renew(part.speed, speed, Kind.SPEED))
    return layout if new == part else with_joint(layout, new)


def set_site_elevation(layout: Layout, elevation: Value) -> Layout:
    """The site at `elevation` [m] above sea level.

    Raises EditError where a barometer reading is given, or no site stands so low or so high.
    """
    old = layout.site.elevation
    if old is None or layout.site.barometer is not None:
        raise EditError("the site is given by its barometer")
    lowest, highest = inputs.SITES
    if not lowest <= si_of(elevation) <= highest:
        low, high = (units.in_unit_of(old, end, Kind.ELEVATION).text for end in inputs.SITES)
        raise EditError(f"a site stands between {low} and {high}; elsewhere give the barometer")
    new = replace(layout.site, elevation=renew(old, elevation, Kind.ELEVATION))
    return layout if new == layout.site else replace(layout, site=new)


def set_blocked(layout: Layout, part: str, share: Value) -> Layout:
    """The strainer or filter with that share of its area blocked. Raises EditError outside 0 to 99 %."""
    old = layout.part(part)
    if not isinstance(old, Intake | Fitting) or old.screen is None:
        raise EditError("this part has no screen")
    least, most = inputs.BLOCKED
    if not least <= si_of(share) <= most:
        raise EditError(f"{least:.0f} to {100 * most:.0f} % can be blocked")
    screen: Screen = replace(old.screen, blocked=round(si_of(share), 6))
    if screen == old.screen:
        return layout
    return with_joint(layout, replace(old, screen=screen))


def carry(before: T, after: T, other: T) -> T:
    """`other`, with the change from `before` to `after` made where `other` still agreed with `before`.

    An alternative is a drawing laid over the base: what it does not replace follows the base.
    """
    if before == after or other == after:
        return other
    if other == before:
        return after
    if isinstance(before, Quantity) or type(before) is not type(other) or type(before) is not type(after):
        return other
    if isinstance(before, Mapping):
        return cast(T, _carry_mapping(before, cast(Mapping[str, Any], after), cast(Mapping[str, Any], other)))
    if is_dataclass(before) and not isinstance(before, type):
        names = [item.name for item in fields(before)]
        parts = {n: carry(getattr(before, n), getattr(after, n), getattr(other, n)) for n in names}
        parts |= {n: getattr(other, n) for n in _outdone(before, other, names)}
        return cast(T, replace(cast(Any, other), **parts))
    return other


def _outdone(before: object, other: object, names: list[str]) -> Iterator[str]:
    """Figures that an alternative has another in the place of: its own size for any bore of the base."""
    own = {name for name in names if getattr(before, name) != getattr(other, name)}
    for sides in raw.exclusive_sides():
        given = [side for side in sides if not own.isdisjoint(side)]
        if given:
            yield from (name for side in sides if side not in given for name in side if name in names)


def _carry_mapping(
    before: Mapping[str, Any], after: Mapping[str, Any], other: Mapping[str, Any]
) -> dict[str, Any]:
    carried: dict[str, Any] = {}
    for key, value in other.items():
        if key in before and key in after:
            carried[key] = carry(before[key], after[key], value)
        elif key not in before or value != before[key]:
            carried[key] = value
    added = {key: value for key, value in after.items() if key not in before and key not in other}
    return carried | added


def _unmoved_text(before: Layout, after: Layout, name: str) -> Layout:
    """`after`, with the coordinate that did not change kept as it was typed."""
    old, new = before.joint(name).at, after.joint(name).at
    x, y = (o if abs(o.si - n.si) <= SAME else n for o, n in zip(old, new, strict=True))
    return after if (x, y) == new else with_joint(after, replace(after.joint(name), at=(x, y)))


def with_joint(layout: Layout, part: Intake | Fitting | Tee | Pump) -> Layout:
    """The layout with that part in place of the one of its name."""
    match part:
        case Intake():
            return replace(layout, intakes={**layout.intakes, part.name: part})
        case Fitting():
            return replace(layout, fittings={**layout.fittings, part.name: part})
        case Tee():
            return replace(layout, tees={**layout.tees, part.name: part})
        case Pump():
            return replace(layout, pumps={**layout.pumps, part.name: part})


def _check_in_tank(layout: Layout, name: str) -> None:
    for part, text in reservoirs.reservoir_problems(layout):
        if part == name:
            raise EditError(f"{name} {text}")


def _level_text(tank: Reservoir, which: Level, y: float) -> str:
    low, high = min(p[1].si for p in tank.outline), max(p[1].si for p in tank.outline)
    if y > high:
        return f"above the rim of {tank.name}"
    if y < low + inputs.LEAST_DEPTH:
        return f"below the floor of {tank.name}"
    if which == Level.MINIMUM:
        return "the minimum level cannot be above the normal level"
    return "the normal level cannot be below the minimum level"
