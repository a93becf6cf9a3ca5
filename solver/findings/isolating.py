"""Checks of the valves that shut a pump off from the fluid over it, and what runs out where it is opened."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from solver.findings.criteria import Hit, Subject
from solver.findings.in_wall import crossing_of, parts_near
from solver.findings.kinds import Severity
from solver.findings.site import depth
from solver.geometry import outline, reservoirs
from solver.geometry.outline import NEAR
from solver.layout.kinds import VALVE_KINDS
from solver.layout.parts import Fitting, Layout
from solver.network.tracing import RunGraph
from solver.quantities.units import Kind

WHY = "Such a pump can be taken out, or its line opened, only with the reservoir drained."
"""Why it matters, of a pump that no valve shuts off."""

REACH = "In trouble nobody can shut it, nor see that it is open or lock it so."
"""Why it matters, of a valve that no hand reaches."""


class Flooding(NamedTuple):
    """Fluid of one reservoir that stands over a pump, and runs out where that is opened."""

    reservoir: str
    volume: float  # down to the lower edge of the port, or of the lowest intake on the way [m³]
    height: float  # of the fluid over the lower edge of the port [m]
    unshut: tuple[str, ...]  # the intakes from which no valve stands on the way to the pump
    shut_by_hand: bool  # whether on every way stands a valve outside the reservoirs


def flooding(layout: Layout, pump: str, graph: RunGraph | None = None) -> tuple[Flooding, ...]:
    """What stands over a pump at the highest level that is drawn, reservoir by reservoir.

    graph: how the drawing is joined, where it is known; it keeps the answer. Nothing runs through a pump or a
    reservoir; a check valve lets fluid through to a pump, so it shuts nothing off.
    """
    low = _lower_edge(layout, pump)
    if all(reservoirs.highest_level(tank) <= low for tank in layout.reservoirs.values()):
        return ()
    if graph is None:
        graph = RunGraph(layout)
    known, of = graph, (layout.fittings, layout.intakes, layout.pumps[pump].at, *layout.reservoirs.values())
    return known.once(("flooding", pump), of, lambda: tuple(_flooding(layout, pump, known)))


def _flooding(layout: Layout, pump: str, graph: RunGraph) -> Iterator[Flooding]:
    low = _lower_edge(layout, pump)
    every, unshut, unreached = (
        _intakes_on(layout, graph, pump, shuts)
        for shuts in (lambda _: False, _is_valve, lambda part: _is_valve(part) and not _inside(layout, part))
    )
    for name, tank in layout.reservoirs.items():
        mouths = [layout.intakes[each] for each in every if layout.intakes[each].reservoir == name]
        if not mouths:
            continue
        surface = reservoirs.highest_level(tank)
        lowest = min(each.at[1].si - outline.bore(each) / 2 for each in mouths)
        bottom = max(low, lowest)
        if surface > bottom + NEAR:
            names = [each.name for each in mouths]
            yield Flooding(
                name,
                reservoirs.volume_between(tank, bottom, surface),
                surface - low,
                tuple(each for each in names if each in unshut),
                not any(each in unreached for each in names),
            )


def _lower_edge(layout: Layout, pump: str) -> float:
    """Elevation of the lowest place of a pump's port [m]."""
    port = layout.pumps[pump]
    return outline.position(port)[1] - outline.bore(port) / 2


def _inside(layout: Layout, part: Fitting) -> bool:
    """Whether a part stands inside a reservoir."""
    at = outline.position(part)
    return any(depth(tank.outline, at) > NEAR for tank in layout.reservoirs.values())


def _is_valve(part: Fitting) -> bool:
    return part.kind in VALVE_KINDS


def _intakes_on(
    layout: Layout, graph: RunGraph, pump: str, shuts: Callable[[Fitting], bool]
) -> dict[str, None]:
    """The intakes that are joined to a pump, no way leading through a fitting that shuts or another pump."""
    reached, ahead = {pump: None}, [pump]
    for part in ahead:
        fitting = layout.fittings.get(part)
        shut = fitting is not None and shuts(fitting)
        if shut or part in layout.intakes or (part in layout.pumps and part != pump):
            continue
        new = [far for far in graph.parts[part] if far not in reached]
        reached |= dict.fromkeys(new)
        ahead += new
    return {name: None for name in reached if name in layout.intakes}


def no_valve(subject: Subject) -> Iterator[Hit]:
    """A pump under the fluid with a way to it on which no valve stands; pumps at rest beside it too."""
    layout, graph = subject.layout, subject.solution.network.joined
    first = subject.pump.name == next(iter(subject.solution.pumps))
    for name in (subject.pump.name, *(subject.solution.resting if first else ())):
        open_ways = [each for each in flooding(layout, name, graph) if each.unshut]
        at = outline.position(layout.pumps[name])
        if not open_ways or any(depth(each.outline, at) > NEAR for each in layout.reservoirs.values()):
            continue  # a pump inside a reservoir is found as such, and has no line that a valve could shut
        tanks = " and ".join(each.reservoir for each in open_ways)
        height = max(each.height for each in open_ways)
        text = (
            f"{name}: fluid up to {subject.show(height, Kind.LENGTH)} over the lower edge of its port, and "
            f"no isolating valve between it and {tanks}"
        )
        yield Hit(Severity.CAUTION, name, "", height, None, Kind.LENGTH, text)


def out_of_reach(subject: Subject) -> Iterator[Hit]:
    """A valve that stands inside a reservoir; of a line that no fluid stands over, a note."""
    layout = subject.layout
    for tank in layout.reservoirs.values():
        for part in parts_near(subject, tank):
            if not isinstance(part, Fitting) or not _is_valve(part):
                continue
            inside = depth(tank.outline, outline.position(part))
            if not inside > NEAR or crossing_of(layout, part, tank) is not None:
                continue  # one that stands across the wall is found as such
            z = outline.position(part)[1] - outline.bore(part) / 2
            where = "under" if z <= reservoirs.highest_level(tank) else "over"
            away = subject.show(inside, Kind.LENGTH)
            text = (
                f"{part.name}: it stands inside {tank.name}, {where} the fluid and {away} from the nearest "
                "wall: no hand reaches it"
            )
            out = subject.show(inside + outline.bore(part) / 2, Kind.LENGTH)
            advice = f"Set {part.name} {out} or more further along its line, where that has left {tank.name}."
            flooded = flooding(layout, subject.pump.name, subject.solution.network.joined)
            severity = Severity.CAUTION if flooded else Severity.NOTE
            yield Hit(severity, part.name, "", inside, None, Kind.LENGTH, text, advice)
