"""How the lines follow a part or a corner that is moved.

They stretch and stay square (see `squaring`). Where a line cannot take up a move within itself, the in-line
fittings and the tees at its end come along if what lies beyond them can; if nothing can, the longest stretch
on the way gets a jog. What is bolted to a pump, a connector or a reducer on a short straight at its port,
goes with the pump, and the line behind it stretches. A pump that passes the bend its line comes from turns to
face it, and one that comes too near to it has it give way (see `leads`).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Mapping
from dataclasses import replace
from typing import TypeVar

from solver.geometry.leads import lead_of, relaid
from solver.geometry.squaring import STAYS, XY, Target, at, follow, jog, longest, needed, without_folded
from solver.layout.kinds import REDUCER_KINDS, FittingKind
from solver.layout.parts import Fitting, Intake, Layout, Point, Pump, Run, Tee
from solver.quantities import columns
from solver.quantities.units import Kind, Quantity, in_unit_of

GO_WITH_PUMP = (FittingKind.FLEXIBLE_CONNECTOR, *REDUCER_KINDS)
"""Fittings that belong to the port they are at, not to the line behind them; common practice, no source."""

SHORT = 0.6
"""Straight between such a fitting and its pump, up to which it goes with the pump [m]; ours."""

T = TypeVar("T", Intake, Fitting, Tee, Pump)

Write = Callable[[Quantity, float, Kind], Quantity]
"""Makes a new figure [SI] of a kind in the place of an old one."""


def move_part(
    layout: Layout, name: str, x: float, y: float, write: Write = in_unit_of, *, alone: bool = False
) -> Layout:
    """The drawing with a part at (x, y) [m] and its lines stretched after it.

    Moving along a line stretches it. Moving across it takes the next corner along, and where there is none
    puts a jog in. The connector of a pump goes with it, unless the pump is moved `alone`. Every new figure is
    written by `write`: in the unit of the one it replaces, as a person would type it.
    Raises KeyError for what is no part that lines end on.
    """
    part = layout.joint(name)
    place = (write(part.at[0], x, Kind.LENGTH), write(part.at[1], y, Kind.LENGTH))
    if place == part.at:
        return layout
    pull = _Pull(layout, write)
    if isinstance(part, Pump) and not alone:
        pull.with_port(name, (place[0].si, place[1].si))
    else:
        pull.part(name, (place[0].si, place[1].si))
    return pull.layout_with({name: place}, fold=True)


def move_parts(
    layout: Layout, places: Mapping[str, XY], vias: Mapping[str, list[XY]], write: Write = in_unit_of
) -> Layout:
    """The drawing with several parts at new places [m]; none of them follows another.

    A line between two of them is moved whole with its start, and its end stretches where that goes
    elsewhere; `vias` are the corners of lines that have them otherwise [m]. A line that leaves the parts
    stretches as in `move_part`. Raises KeyError for what is no part that lines end on.
    """
    pull = _Pull(layout, write)
    pull.parts.update(places)
    for run in layout.runs.values():
        if run.start in places and run.end in places:
            pull.whole(run, vias.get(run.name))
    for name, place in places.items():
        pull.leaving(name, place)
    return pull.layout_with({}, fold=True)


def move_corner(layout: Layout, run: str, index: int, x: float, y: float) -> Layout:
    """The drawing with corner `index` of a run at (x, y) [m] and the stretches beside it kept square.

    A neighbouring corner comes along in the direction that would tilt the stretch between them. Where the
    neighbour is a part that cannot come along, the stretch gets a jog, so that a corner's index may differ
    in the result: in a drag, move the corner of the drawing as it was when the drag began.
    Raises KeyError and IndexError for a corner that is not there.
    """
    old = layout.runs[run].via[index]
    place = (in_unit_of(old[0], x, Kind.LENGTH), in_unit_of(old[1], y, Kind.LENGTH))
    if place == old:
        return layout
    pull = _Pull(layout, in_unit_of)
    pull.corner(run, index, (place[0].si, place[1].si))
    return pull.layout_with({}, fold=False)


def bolted_to(layout: Layout, pump: str) -> tuple[str, ...]:
    """The fittings that go with a pump when it is moved, from its port on."""
    return tuple(_bolted(layout, _lines_on(layout), pump))


def _lines_on(layout: Layout) -> dict[str, list[Run]]:
    """The lines that end on each part."""
    on: dict[str, list[Run]] = {}
    for run in layout.runs.values():
        on.setdefault(run.start, []).append(run)
        on.setdefault(run.end, []).append(run)
    return on


def _bolted(layout: Layout, on: Mapping[str, list[Run]], pump: str) -> dict[str, Run]:
    """What goes with a pump, from its port on, each with the line that leads to it from there."""
    name, by, bolted = pump, None, dict[str, Run]()
    while len(onward := [run for run in on.get(name, ()) if run is not by]) == 1:
        run, far = onward[0], _far(onward[0], name)
        part = layout.joint(far)
        if run.via or run.out_of_plane is not None or len(on[far]) != 2 or far in bolted:
            break
        length = math.dist(_place(layout, run.start), _place(layout, run.end))
        if not (isinstance(part, Fitting) and part.kind in GO_WITH_PUMP and length <= SHORT):
            break
        name, by = far, run
        bolted[far] = run
    return bolted


class _Pull:
    """One move in the making: where parts and corners have come to."""

    def __init__(self, layout: Layout, write: Write) -> None:
        self.layout = layout
        self.write = write
        self.parts: dict[str, XY] = {}
        self.lines: dict[str, list[XY]] = {}
        self.on = _lines_on(layout)

    def part(self, name: str, target: Target, by: Run | None = None) -> None:
        """Move a part, and every line on it but the one that brought it."""
        self.parts[name] = at(_place(self.layout, name), target)
        for run in self.on.get(name, ()):
            if run is not by:
                self._keep(run, name, self._drag(run, self._points(run, name), _far(run, name), target))

    def with_port(self, pump: str, place: XY) -> None:
        """Move a pump with what is bolted to it, and let the line behind that follow."""
        x, y = _place(self.layout, pump)
        way = place[0] - x, place[1] - y
        self.parts[pump] = place
        bolted = _bolted(self.layout, self.on, pump)
        if self._relaid(pump, place, bolted):
            return
        for name in bolted:
            x, y = _place(self.layout, name)
            self.parts[name] = x + way[0], y + way[1]
        last = next(reversed(bolted), pump)
        self.part(last, self.parts[last], bolted.get(last))

    def _relaid(self, pump: str, place: XY, bolted: Collection[str]) -> bool:
        """Lay the lead to a pump anew where it would run back through the pump; whether it was."""
        lead = lead_of(self.layout, self.on, pump)
        laid = (
            relaid(lead, max((lead.fittings.get(name, 0.0) for name in bolted), default=0.0), place)
            if lead
            else None
        )
        if lead is None or laid is None:
            return False
        last, run = [*laid.fittings][-1], lead.behind
        if laid.bend is not None and not self._gives_way(run, last, laid.bend):
            return False
        self.parts.update(laid.fittings)
        points, far = self._points(run, last), _far(run, last)
        if laid.bend is not None:
            bend = laid.bend
            if run.via:
                behind = self._drag(run, points[1:], far, bend)
            else:
                self.part(far, bend, run)
                behind = [bend]
            self._keep(run, last, [self.parts[last], *behind])
            return True
        if laid.straight is not None:
            points = [laid.straight, *points[2:]]
        self._keep(run, last, self._drag(run, points, far, self.parts[last]))
        return True

    def _gives_way(self, run: Run, last: str, bend: XY) -> bool:
        """Whether the bend that a lead begins at, or the part, can be at another place."""
        far = _far(run, last)
        return bool(run.via) or self._comes(far, needed(_place(self.layout, far), bend), run, frozenset())

    def whole(self, run: Run, via: list[XY] | None) -> None:
        """Move a run of which both ends have moved, its corners to `via` or along with its start."""
        start, end = self.parts[run.start], self.parts[run.end]
        if via is not None:
            self.lines[run.name] = [start, *via, end]
            return
        points = self._points(run, run.start)
        dx, dy = start[0] - points[0][0], start[1] - points[0][1]
        carried = [(x + dx, y + dy) for x, y in points]
        moved, left = follow(carried[::-1], end)
        self.lines[run.name] = (moved if left == STAYS else jog(carried[::-1], end))[::-1]

    def leaving(self, name: str, target: Target) -> None:
        """Stretch the lines that lead from a part that has moved to parts that have not."""
        for run in self.on.get(name, ()):
            if not (run.start in self.parts and run.end in self.parts):
                self._keep(run, name, self._drag(run, self._points(run, name), _far(run, name), target))

    def corner(self, name: str, index: int, target: Target) -> None:
        """Move a corner, and both sides of its run."""
        run = self.layout.runs[name]
        points = self._points(run, run.start)
        before = self._drag(run, points[index + 1 :: -1], run.start, target)
        after = self._drag(run, points[index + 1 :], run.end, target)
        self.lines[name] = [*before[:0:-1], *after]

    def _drag(self, run: Run, points: list[XY], far: str, target: Target) -> list[XY]:
        """Points of a run, from its moved end to the part `far`, once they have followed."""
        moved, left = follow(points, target)
        if left == STAYS:
            return moved
        if self._comes(far, left, run, frozenset()):
            self.part(far, left, run)
            return [*moved[:-1], at(moved[-1], left)]
        return self._jogged(run, points, far, target)

    def _comes(self, name: str, target: Target, by: Run, seen: frozenset[str]) -> bool:
        """Whether a part can come along with all that it would pull."""
        part = self.layout.joint(name)
        if name in self.parts or name in seen or not isinstance(part, Fitting | Tee):
            return False
        onward = [run for run in self.on[name] if run is not by]
        if isinstance(part, Tee):
            return all(self._slides(run, name, target) for run in onward)
        for run in onward:
            _, left = follow(self._points(run, name), target)
            if left != STAYS and not self._comes(_far(run, name), left, run, seen | {name}):
                return False
        return True

    def _slides(self, run: Run, tee: str, target: Target) -> bool:
        """Whether a tee can move along a line on it without turning that line round."""
        points = self._points(run, tee)
        moved, left = follow(points, target)
        (old, old_next), (new, new_next) = points[:2], moved[:2]
        turned = any((old_next[i] - old[i]) * (new_next[i] - new[i]) < 0 for i in (0, 1))
        return left == STAYS and not turned

    def _jogged(self, run: Run, points: list[XY], far: str, target: Target) -> list[XY]:
        """The corners where nothing beyond takes up the move: a jog in the longest line on the way."""
        beyond = self._beyond(run, far)
        if all(longest(points) >= longest(self._points(line, near)) for line, near in beyond):
            return jog(points, target)
        moved, left = follow(points, target)
        self.parts[far] = at(_place(self.layout, far), left)
        line = beyond[0][0]
        self._keep(line, far, self._jogged(line, self._points(line, far), _far(line, far), left))
        return [*moved[:-1], self.parts[far]]

    def _beyond(self, run: Run, far: str) -> list[tuple[Run, str]]:
        """The lines after a run, each with the in-line fitting it starts from, up to a part that stays."""
        beyond: list[tuple[Run, str]] = []
        while far not in self.parts and isinstance(self.layout.joint(far), Fitting):
            onward = [line for line in self.on[far] if line is not run]
            if len(onward) != 1 or any(onward[0] is line for line, _ in beyond):
                break
            run = onward[0]
            beyond.append((run, far))
            far = _far(run, far)
        return beyond

    def _keep(self, run: Run, start: str, points: list[XY]) -> None:
        self.lines[run.name] = points if run.start == start else points[::-1]

    def _points(self, run: Run, start: str) -> list[XY]:
        """A run's points by now, from the part `start`."""
        line = self.lines.get(run.name)
        if line is None:
            inner = [(x.si, y.si) for x, y in run.via]
            line = [_place(self.layout, run.start), *inner, _place(self.layout, run.end)]
        return line if run.start == start else line[::-1]

    def layout_with(self, places: Mapping[str, Point], *, fold: bool) -> Layout:
        """The drawing as it stands after the move; `places` are written as they are.

        fold: drop the corners that the move has laid on one another.
        """
        old = self.layout
        placed = dict(places)
        for name, place in self.parts.items():
            placed.setdefault(name, self._written(old.joint(name).at, place))
        runs = dict(old.runs)
        for name, line in self.lines.items():
            points = without_folded(line)[1:-1] if fold else line[1:-1]
            runs[name] = replace(runs[name], via=self._via(runs[name], points))
        return replace(
            old,
            runs=runs,
            intakes=_placed(old.intakes, placed),
            fittings=_placed(old.fittings, placed),
            tees=_placed(old.tees, placed),
            pumps=_placed(old.pumps, placed),
        )

    def _via(self, run: Run, points: list[XY]) -> tuple[Point, ...]:
        """Corners as quantities: what stays where it was keeps its text, the rest its neighbour's units."""
        typed = {(x.si, y.si): (x, y) for x, y in run.via}
        models = run.via or (self.layout.joint(run.start).at,)
        last = len(models) - 1
        kept = [None if any(map(columns.is_column, xy)) else typed.get(xy) for xy in points]
        return tuple(kept[i] or self._written(models[min(i, last)], xy) for i, xy in enumerate(points))

    def _written(self, model: Point, place: XY) -> Point:
        """A place in the units of another, whose text stays where the figure does."""
        x, y = (
            q if q.si == value else self.write(q, value, Kind.LENGTH)
            for q, value in zip(model, place, strict=True)
        )
        return x, y


def _place(layout: Layout, name: str) -> XY:
    x, y = layout.joint(name).at
    return x.si, y.si


def _far(run: Run, near: str) -> str:
    return run.end if run.start == near else run.start


def _placed(parts: Mapping[str, T], places: Mapping[str, Point]) -> Mapping[str, T]:
    if not any(name in parts for name in places):
        return parts
    return {name: replace(part, at=places[name]) if name in places else part for name, part in parts.items()}
