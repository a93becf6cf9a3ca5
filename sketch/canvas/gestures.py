"""A whole drag as one generator: press, moves, release, in plain Python.

The caller primes the generator, sends the pointer where the button went down, then every place it moves to,
and closes it on release. Each answer is the drawing as it would be now, always made from the drawing the
drag began with, so that nothing drifts and going back undoes it exactly.
"""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass, replace
from functools import lru_cache

from sketch.canvas.handles import REMARKS, Handle, Hold
from sketch.canvas.snapping import (
    Anchor,
    Anchors,
    Guide,
    Snapped,
    anchors,
    group_anchors,
    loose_anchors,
    snap,
)
from sketch.editing import edits, remarks, reshape, selection, tanks
from sketch.editing.edits import EditError
from solver.answers import inputs
from solver.geometry.outline import GeometryError
from solver.layout.parts import Layout, Level, Point
from solver.quantities import units
from solver.quantities.units import Kind, System


@dataclass(frozen=True, slots=True)
class Pointer:
    """Where the mouse is on the sheet [m]; `free` when snapping is held off."""

    x: float
    y: float
    free: bool = False


@dataclass(frozen=True, slots=True)
class Proposal:
    """The drawing while a drag is under way, where the held thing is [m], and what to show beside it."""

    layout: Layout
    x: float
    y: float
    guides: tuple[Guide, ...] = ()
    trouble: str = ""  # why the thing did not follow the pointer any further


Drag = Generator[Proposal, Pointer, None]


def drag(
    layout: Layout,
    handle: Handle,
    step: float,
    reach: float,
    together: tuple[str, ...] = (),
    first: Layout | None = None,
) -> Drag:
    """Move what `handle` holds with the pointer, snapping to `step` and within `reach` [m].

    `together` are the parts that move with it, itself among them. What cannot be (an intake out of its tank)
    stays at the last place that can, with the reason. `first` is the layout in the place of which a pump that
    was moved before is moved again.
    """
    among = _anchors(layout, handle, together)
    kept = Proposal(layout, handle.x, handle.y)
    press = yield kept
    while True:
        pointer = yield kept
        x, y = handle.x + pointer.x - press.x, handle.y + pointer.y - press.y
        if handle.hold is Hold.END:  # held a little in from the part that it ends on
            x, y = pointer.x, pointer.y
        rest = Snapped(x, y) if pointer.free else snap(x, y, among, step, reach)
        try:
            base = layout if first is None or pointer.free else first
            kept = moved(base, handle, rest, together, reach, alone=pointer.free)
        except (EditError, GeometryError) as error:
            kept = replace(kept, guides=(), trouble=str(error))


def _anchors(layout: Layout, handle: Handle, together: tuple[str, ...]) -> Anchors:
    if together or handle.hold is Hold.TANK:
        return group_anchors(layout, together or (handle.name,), handle.x, handle.y)
    if handle.hold is Hold.PART:
        return anchors(layout, handle.name)
    if handle.hold is Hold.CORNER:
        return anchors(layout, handle.name, handle.corner)
    if handle.hold is Hold.LEVEL:
        return Anchors(up=(Anchor(handle.y, handle.x, handle.y, own=True),))
    return loose_anchors(layout, handle.x, handle.y)


def moved(
    layout: Layout,
    handle: Handle,
    rest: Snapped,
    together: tuple[str, ...] = (),
    reach: float = 0.0,
    *,
    alone: bool = False,
) -> Proposal:
    """The drawing with what `handle` holds at `rest`, and the parts `together` moved alike. Raises EditError.

    A line that is moved itself stops where its bends would find no room. A part goes on: the line that
    follows it may have to pass through what cannot be built on the way to what can. An end of a run is
    turned onto what lies within `reach` [m]. The connector of a pump stays where that is moved `alone`.
    """
    if together or handle.hold is Hold.TANK:
        way = rest.x - handle.x, rest.y - handle.y
        return Proposal(selection.move(layout, together or (handle.name,), *way), rest.x, rest.y, rest.guides)
    if handle.hold is Hold.END:
        changed = reshape.turn_end(layout, handle.name, handle.corner, rest.x, rest.y, reach)
        return Proposal(changed, rest.x, rest.y)
    proposal = _moved(layout, handle, rest, alone=alone)
    if handle.hold in (Hold.CORNER, Hold.STRETCH):
        reshape.check_bends(layout, proposal.layout)
    return proposal


def _moved(layout: Layout, handle: Handle, rest: Snapped, *, alone: bool) -> Proposal:
    if handle.which is not None:
        return _level_moved(layout, handle, rest)
    if handle.hold in REMARKS:
        return _remark_moved(layout, handle, rest)
    if handle.name in layout.reservoirs:
        return _tank_reshaped(layout, handle, rest)
    if handle.hold is Hold.STRETCH:
        return _stretch_moved(layout, handle, rest)
    if handle.hold is Hold.CORNER:
        changed = reshape.move_bend(layout, handle.name, handle.corner, rest.x, rest.y)
    elif handle.hold is Hold.MIDDLE:
        changed = reshape.add_bend(layout, handle.name, handle.corner, rest.x, rest.y)
    else:
        changed = edits.move_part(layout, handle.name, rest.x, rest.y, alone=alone)
    return Proposal(changed, rest.x, rest.y, rest.guides)


def _level_moved(layout: Layout, handle: Handle, rest: Snapped) -> Proposal:
    assert handle.which is not None
    if handle.which is Level.DRAWN_DOWN:
        changed, y = tanks.set_drawn_down(layout, handle.name, rest.y), rest.y
    else:
        low, high = inputs.level_range(layout.reservoirs[handle.name], handle.which)
        y = min(max(rest.y, low), high)
        changed = edits.set_level(layout, handle.name, handle.which, y)
    return Proposal(changed, handle.x, y, rest.guides)


def _remark_moved(layout: Layout, handle: Handle, rest: Snapped) -> Proposal:
    if handle.hold is Hold.TEXT:
        return Proposal(remarks.move_text(layout, handle.corner, rest.x, rest.y), rest.x, rest.y, rest.guides)
    changed = remarks.move_dimension(layout, handle.corner, rest.x, rest.y)
    return _sideways(handle, rest, changed, upright=handle.upright)


def _tank_reshaped(layout: Layout, handle: Handle, rest: Snapped) -> Proposal:
    """The drawing with a wall, a corner, the baffle or the return of a tank moved."""
    name, corner = handle.name, handle.corner
    if handle.hold is Hold.WALL:
        axis = tanks.wall_axis(layout.reservoirs[name], corner)
        changed = tanks.move_wall(layout, name, corner, rest.x, rest.y)
        return _sideways(handle, rest, changed, upright=axis == tanks.X)
    if handle.hold is Hold.BAFFLE:
        top = handle.end[1] if handle.end is not None else handle.y
        return _sideways(handle, rest, tanks.set_baffle(layout, name, rest.x, top), upright=True)
    if handle.hold is Hold.BAFFLE_TOP:
        changed = tanks.set_baffle(layout, name, rest.x, rest.y)
    elif handle.hold is Hold.RETURN:
        changed = tanks.set_return(layout, name, rest.x, rest.y)
    else:
        changed = tanks.drag_outline_corner(layout, name, corner, rest.x, rest.y)
    return Proposal(changed, rest.x, rest.y, rest.guides)


def _stretch_moved(layout: Layout, handle: Handle, rest: Snapped) -> Proposal:
    upright = reshape.sideways_axis(layout, handle.name, handle.corner) == reshape.X
    changed = reshape.move_stretch(layout, handle.name, handle.corner, rest.x if upright else rest.y)
    return _sideways(handle, rest, changed, upright=upright)


def _sideways(handle: Handle, rest: Snapped, changed: Layout, *, upright: bool) -> Proposal:
    """The drawing with what goes sideways only: guides for the other way say nothing."""
    guides = tuple(guide for guide in rest.guides if (guide.x1 == guide.x2) is upright)
    x, y = (rest.x, handle.y) if upright else (handle.x, rest.y)
    return Proposal(changed, x, y, guides)


def label(
    handle: Handle, proposal: Proposal, system: System, together: tuple[str, ...] = (), followed: str = ""
) -> str:
    """What the undo menu calls the drag: what was moved, the place that it came to, and how lines followed
    besides stretching."""
    if not together and handle.hold is Hold.MIDDLE:
        return f"Add a bend to {handle.name}"
    if not together and handle.hold is Hold.END:
        return f"Connect an end of {handle.name}"
    moved = f"Move {len(together)} parts, {handle.name}" if together else _what_moved(handle, proposal.layout)
    return f"{moved} to {place_text(handle, proposal, system)}{f': {followed}' if followed else ''}"


def _what_moved(handle: Handle, layout: Layout) -> str:
    if handle.hold in REMARKS:
        return f"Move a {handle.hold}"
    if handle.hold is Hold.LEVEL:
        return f"Move the {str(handle.which).replace(' ', '-')} level of {handle.name}"
    if handle.hold is Hold.CORNER:
        return f"Move bend {handle.corner + 1} of {handle.name}"
    if handle.hold is Hold.STRETCH:
        return f"Move straight {handle.corner + 1} of {handle.name}"
    if handle.hold in (Hold.RETURN, Hold.BAFFLE, Hold.BAFFLE_TOP):
        what = "return" if handle.hold is Hold.RETURN else "baffle"
        return f"Move the {what} of {handle.name}"
    if handle.hold is Hold.WALL:
        return f"Move {_wall(layout.reservoirs[handle.name].outline, handle.corner)} of {handle.name}"
    if handle.hold is Hold.OUTLINE:
        return f"Move corner {handle.corner + 1} of {handle.name}"
    return f"Move {handle.name}"


def _wall(outline: tuple[Point, ...], number: int) -> str:
    """A wall of a tank by the side that it is on, one that slants or stands between others by its number."""
    xs, ys = ([corner[way].si for corner in outline] for way in (0, 1))
    after = (number + 1) % len(outline)
    if xs[number] == xs[after] and xs[number] in (min(xs), max(xs)):
        return "the left wall" if xs[number] == min(xs) else "the right wall"
    if ys[number] == ys[after] and ys[number] in (min(ys), max(ys)):
        return "the floor" if ys[number] == min(ys) else "the top"
    return f"wall {number + 1}"


def place_text(handle: Handle, proposal: Proposal, system: System) -> str:
    """Where the held thing is: the figures that it can be moved in."""
    return _place_text(handle.hold, handle.upright, proposal.x, proposal.y, system)


@lru_cache(maxsize=4)  # at every move the step for undo is called by it, and it stands at the pointer
def _place_text(hold: Hold, upright: bool, x: float, y: float, system: System) -> str:
    height = f"height {units.typeset(y, Kind.LENGTH, system)}"
    if hold is Hold.LEVEL:
        return height
    along = f"x {units.typeset(x, Kind.LENGTH, system)}"
    if hold in (Hold.STRETCH, Hold.WALL, Hold.BAFFLE, Hold.DIMENSION):
        return along if upright else height
    return f"{height}, {along}"
