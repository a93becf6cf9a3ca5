"""Where a thing that is held comes to rest: on the grid, in line with other parts, or exactly where it is."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from sketch.editing import selection
from sketch.editing.stock import GRID
from solver.geometry.moving import bolted_to
from solver.layout.parts import Layout
from solver.quantities.units import System

COARSE = 10  # grid steps with Shift
SEEN = 6.0  # logical pixels from one step to the next
SAME = 1e-6  # coordinates this near are one [m]
REACH = 7.0  # logical pixels within which a thing falls in line


@dataclass(frozen=True, slots=True)
class Anchor:
    """A coordinate to fall in line with, and the point it comes from [m]."""

    value: float
    x: float
    y: float
    own: bool = False  # where the thing stood when it was taken hold of


@dataclass(frozen=True, slots=True)
class Guide:
    """A thin line that shows what was fallen in line with [m]."""

    x1: float
    y1: float
    x2: float
    y2: float


@dataclass(frozen=True, slots=True)
class Anchors:
    """What a moving point may align with: `across` holds values of x, `up` values of y."""

    across: tuple[Anchor, ...] = ()
    up: tuple[Anchor, ...] = ()


@dataclass(frozen=True, slots=True)
class Snapped:
    """Where the point rests [m], and the guides that say why."""

    x: float
    y: float
    guides: tuple[Guide, ...] = ()


def grid_step(system: System, *, coarse: bool = False) -> float:
    """One grid step of that unit system, or ten [m]."""
    return GRID[system] * (COARSE if coarse else 1)


def placing_step(system: System, pixels: float) -> float:
    """The step on which a new part is put down [m]: one that is seen, of a grid step, five or ten.

    pixels: logical, a metre. On the grid alone a part on a whole sheet came to stand at 0.73 m.
    """
    step = grid_step(system)
    return next((count * step for count in (1, 5) if count * step * pixels >= SEEN), COARSE * step)


def anchors(layout: Layout, name: str, corner: int | None = None) -> Anchors:
    """What the part `name`, or corner `corner` of the run `name`, can fall in line with.

    Corners next to a moving part stretch with it, so they are left out, as is the part itself, and what is
    bolted to a pump that moves.
    """
    own = _own_point(layout, name, corner)
    points = list(_still_points(layout, name, corner))
    still = Anchor(own[0], *own, own=True), Anchor(own[1], *own, own=True)
    levels = [
        Anchor(tank.minimum_level.si, own[0], tank.minimum_level.si) for tank in layout.reservoirs.values()
    ]
    return Anchors(
        across=(still[0], *(Anchor(x, x, y) for x, y in points)),
        up=(still[1], *(Anchor(y, x, y) for x, y in points), *levels),
    )


def loose_anchors(layout: Layout, x: float, y: float) -> Anchors:
    """What a straight or a corner of a tank at (x, y) [m] can fall in line with: everything that is not in
    line with it already."""
    points = [*_still_points(layout, "", None), *_tank_corners(layout)]
    across = (Anchor(px, px, py) for px, py in points if abs(px - x) > SAME)
    up = (Anchor(py, px, py) for px, py in points if abs(py - y) > SAME)
    return Anchors(across=(Anchor(x, x, y, own=True), *across), up=(Anchor(y, x, y, own=True), *up))


def group_anchors(layout: Layout, names: Collection[str], x: float, y: float) -> Anchors:
    """What parts that move together, held at (x, y) [m], can fall in line with: every part that stays."""
    moved = selection.moving_with(layout, names)
    points = [
        (part.at[0].si, part.at[1].si)
        for group in (layout.intakes, layout.fittings, layout.tees, layout.pumps)
        for part in group.values()
        if part.name not in moved
    ]
    points += [each for name, each in _corners_of_tanks(layout) if name not in moved]
    across = (Anchor(x, x, y, own=True), *(Anchor(px, px, py) for px, py in points))
    up = (Anchor(y, x, y, own=True), *(Anchor(py, px, py) for px, py in points))
    return Anchors(across, up)


def new_anchors(layout: Layout) -> Anchors:
    """What a new part can fall in line with: every part, and every corner of a tank."""
    points = [*_still_points(layout, "", None), *_tank_corners(layout)]
    return Anchors(tuple(Anchor(x, x, y) for x, y in points), tuple(Anchor(y, x, y) for x, y in points))


def _tank_corners(layout: Layout) -> Iterable[tuple[float, float]]:
    return (corner for _, corner in _corners_of_tanks(layout))


def _corners_of_tanks(layout: Layout) -> Iterable[tuple[str, tuple[float, float]]]:
    for name, tank in layout.reservoirs.items():
        yield from ((name, (x.si, y.si)) for x, y in tank.outline)


def _own_point(layout: Layout, name: str, corner: int | None) -> tuple[float, float]:
    at = layout.joint(name).at if corner is None else layout.runs[name].via[corner]
    return at[0].si, at[1].si


def _still_points(layout: Layout, name: str, corner: int | None) -> Iterable[tuple[float, float]]:
    moving = {name, *(bolted_to(layout, name) if name in layout.pumps else ())}
    for group in (layout.intakes, layout.fittings, layout.tees, layout.pumps):
        yield from ((part.at[0].si, part.at[1].si) for part in group.values() if part.name not in moving)
    for run in layout.runs.values():
        if run.start in moving or run.end in moving or run.name == name:
            continue
        yield from ((x.si, y.si) for x, y in run.via)
    moved = layout.runs.get(name)
    if moved is not None and corner is not None:
        far = [at for i, at in enumerate(moved.via) if abs(i - corner) > 1]
        yield from ((x.si, y.si) for x, y in far)


def snap(x: float, y: float, among: Anchors, step: float, reach: float) -> Snapped:
    """Rest (x, y) [m] on the nearest anchor within `reach` [m], else on the grid of `step` [m].

    Each axis is taken on its own, so that a part slides along a line it has fallen into.
    """
    across, up = _nearest(x, among.across, reach), _nearest(y, among.up, reach)
    rest_x = across.value if across else _on_grid(x, step)
    rest_y = up.value if up else _on_grid(y, step)
    guides = []
    if across and not across.own:
        guides.append(Guide(rest_x, across.y, rest_x, rest_y))
    if up and not up.own:
        guides.append(Guide(up.x, rest_y, rest_x, rest_y))
    return Snapped(rest_x, rest_y, tuple(guides))


def _nearest(value: float, among: Iterable[Anchor], reach: float) -> Anchor | None:
    near = [anchor for anchor in among if abs(anchor.value - value) <= reach]
    return min(near, key=lambda anchor: abs(anchor.value - value), default=None)


def _on_grid(value: float, step: float) -> float:
    return round(round(value / step) * step, 9)
