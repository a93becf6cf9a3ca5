"""What an alternative counts on that is not built but kept up: heat, levels, pressure, flow."""

from __future__ import annotations

from collections.abc import Iterator

from solver.geometry.outline import NEAR
from solver.layout.parts import Layout, Reservoir
from solver.layout.shapes import polygon
from solver.properties.fluid import FluidError, state
from solver.quantities.units import Kind, Quantity, System, typeset
from solver.quantities.wording import degrees


def measures(before: Layout, after: Layout, system: System | None = None) -> tuple[str, ...]:
    """What `after` has to be provided with that `before` has not: "a level switch at 0.55 m in tank".

    system: of the figures; that of `after` unless given.
    """
    system = system or System(after.units)
    parts = (_fluid, _reservoirs, _pumps)
    return tuple(text for part in parts for text in part(before, after, system))


def _fluid(before: Layout, after: Layout, system: System) -> Iterator[str]:
    old, new = before.fluid, after.fluid
    if old.name != new.name:
        yield f"{new.name} in place of {old.name}{_thin_where_hot(before, after, system)}"
    start, then = (each.coldest_start or each.temperature for each in (old, new))
    warm, running = (typeset(each.si, Kind.TEMPERATURE, system) for each in (then, new.temperature))
    held = old.temperature.si != new.temperature.si and new.coldest_start is not None
    if then.si > start.si:
        then_held = " and while it runs" if warm == running else f", at {running} while it runs"
        yield f"a heater that holds the fluid at {warm} before every start{then_held if held else ''}"
    elif held:
        yield f"the fluid at {running} while it runs"


def _thin_where_hot(before: Layout, after: Layout, system: System) -> str:
    """That a thinner fluid is to be thick enough, with how thick it is where it runs hottest; "" of a thicker
    one. Not judged, as only a pump's maker knows how thin it may be."""
    typed = (case.figures.get(("fluid", "temperature")) for case in after.cases.values())
    hottest = max(each.si for each in (after.fluid.temperature, *typed) if isinstance(each, Quantity))
    try:
        was, now = (state(each.fluid, hottest).viscosity for each in (before, after))
    except FluidError:
        return "; not judged: how thick it is where it runs hottest"
    if now >= was:
        return ""
    thick, at = typeset(now, Kind.VISCOSITY, system), degrees(hottest, system)
    return f": ask the pumps' makers whether {thick} is thick enough at {at}, where it runs hottest"


def _reservoirs(before: Layout, after: Layout, system: System) -> Iterator[str]:
    for name, new in after.reservoirs.items():
        old = before.reservoirs.get(name)
        if old is None:
            continue
        up = _stands_higher(old, new)
        if up > NEAR:
            yield f"a platform that carries {name} when it is full, {typeset(up, Kind.LENGTH, system)} higher"
        if new.minimum_level.si - up > old.minimum_level.si + NEAR:
            yield f"a level switch at {typeset(new.minimum_level.si, Kind.LENGTH, system)} in {name}"
        if abs(new.normal_level.si - up - old.normal_level.si) > NEAR:
            yield f"{name} filled to {typeset(new.normal_level.si, Kind.LENGTH, system)}"
        if new.pressure is not None and _other(old.pressure, new.pressure):
            yield f"{typeset(new.pressure.si, Kind.PRESSURE, system)} held on the fluid in {name}"


def _stands_higher(old: Reservoir, new: Reservoir) -> float:
    """By how much a tank stands higher than before [m]; below zero where it stands lower."""
    now, before = (polygon(tank.outline).bounds[1] for tank in (new, old))
    return float(now - before)


def _pumps(before: Layout, after: Layout, system: System) -> Iterator[str]:
    for name, new in after.pumps.items():
        old = before.pumps.get(name)
        if old is None:
            continue
        for was, now, kind in ((old.flow, new.flow, Kind.FLOW), (old.speed, new.speed, Kind.SPEED)):
            if now is not None and _other(was, now):
                yield f"{name} run at {typeset(now.si, kind, system)}"


def _other(before: Quantity | None, after: Quantity) -> bool:
    return before is None or before.si != after.si
