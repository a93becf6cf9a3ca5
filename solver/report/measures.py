"""What an alternative counts on that is not built but kept up: heat, levels, pressure, flow."""

from __future__ import annotations

from collections.abc import Iterator

from solver.layout.parts import Layout
from solver.quantities.units import Quantity


def measures(before: Layout, after: Layout) -> tuple[str, ...]:
    """What `after` has to be provided with that `before` has not: "a level switch at 0.55 m in tank".

    Figures stand as they were typed.
    """
    return (*_fluid(before, after), *_reservoirs(before, after), *_pumps(before, after))


def _fluid(before: Layout, after: Layout) -> Iterator[str]:
    old, new = before.fluid, after.fluid
    if old.name != new.name:
        yield f"{new.name} in place of {old.name}"
    start, then = (each.coldest_start or each.temperature for each in (old, new))
    if then.si > start.si:
        yield f"a heater that holds the fluid at {then.text} before every start"
    if old.temperature.si != new.temperature.si and new.coldest_start is not None:
        yield f"the fluid at {new.temperature.text} while it runs"


def _reservoirs(before: Layout, after: Layout) -> Iterator[str]:
    for name, new in after.reservoirs.items():
        old = before.reservoirs.get(name)
        if old is None:
            continue
        if new.minimum_level.si > old.minimum_level.si:
            yield f"a level switch at {new.minimum_level.text} in {name}"
        if new.normal_level.si != old.normal_level.si:
            yield f"{name} filled to {new.normal_level.text}"
        if new.pressure is not None and _other(old.pressure, new.pressure):
            yield f"{new.pressure.text} held on the fluid in {name}"


def _pumps(before: Layout, after: Layout) -> Iterator[str]:
    for name, new in after.pumps.items():
        old = before.pumps.get(name)
        if old is None:
            continue
        for was, now in ((old.flow, new.flow), (old.speed, new.speed)):
            if now is not None and _other(was, now):
                yield f"{name} run at {now.text}"


def _other(before: Quantity | None, after: Quantity) -> bool:
    return before is None or before.si != after.si
