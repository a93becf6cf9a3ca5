"""Bends added to a standing line and taken from it, by a double click or by a command."""

from __future__ import annotations

from itertools import pairwise

from sketch.canvas import snapping
from sketch.canvas.hand import Hand
from sketch.canvas.handles import Handle, Hold
from sketch.drawing.pointing import Targets
from sketch.editing import reshape, tanks
from sketch.model.document import Document
from solver.layout.parts import Layout


def bend_at(document: Document, hand: Hand, targets: Targets, x: float, y: float) -> bool:
    """Take away the bend or the tank's corner under a device point, or add one to the line or wall there.

    False where there is none of these. Raises EditError for a corner that the tank needs.
    """
    layout, held = document.layout, hand.at(targets.view, x, y)
    if held is not None and held.hold is Hold.CORNER:
        document.apply(f"Remove a bend of {held.name}", reshape.remove_bend(layout, held.name, held.corner))
        return True
    if held is not None and held.hold is Hold.OUTLINE:
        changed = tanks.remove_corner(layout, held.name, held.corner)
        document.apply(f"Remove a corner of {held.name}", changed)
        return True
    if held is not None and held.hold is Hold.WALL:
        add_corner(document, held.name, held.corner, targets.view.world(x, y))
        return True
    part = targets.part_at(x, y)
    if part not in layout.runs or (held is not None and held.hold is Hold.PART):
        return False
    stretch, place = reshape.nearest_stretch(layout, part, *targets.view.world(x, y))
    add_bend(document, part, stretch, place)
    return True


def add_bend(document: Document, run: str, stretch: int, place: tuple[float, float]) -> None:
    """One more bend in a stretch of a run, on the grid along it; the run is selected."""
    at = _on_grid(document, run, stretch, place)
    document.apply(f"Add a bend to {run}", reshape.add_bend(document.layout, run, stretch, *at))
    document.select(run)


def add_corner(document: Document, tank: str, wall: int, place: tuple[float, float]) -> None:
    """One more corner in a wall of a tank, on the grid along it, to be pulled out of it."""
    layout, axis = document.layout, tanks.wall_axis(document.layout.reservoirs[tank], wall)
    begin, end = tanks.walls(layout.reservoirs[tank])[wall]
    step = snapping.grid_step(document.system)
    x, y = (round(round(each / step) * step, 9) for each in place)
    at = (begin[0], y) if axis == tanks.X else (x, begin[1])
    if axis is None:
        wide, high = end[0] - begin[0], end[1] - begin[1]
        along = (place[0] - begin[0]) * wide + (place[1] - begin[1]) * high
        share = along / (wide * wide + high * high)
        at = begin[0] + share * wide, begin[1] + share * high
    document.apply(f"Add a corner to {tank}", tanks.add_corner(layout, tank, wall, *at))


def _on_grid(document: Document, run: str, stretch: int, place: tuple[float, float]) -> tuple[float, float]:
    step = snapping.grid_step(document.system)
    axis = reshape.sideways_axis(document.layout, run, stretch)
    x, y = (round(each / step) * step for each in place)
    if axis is None:
        return place
    return (place[0], y) if axis == reshape.X else (x, place[1])


def add_to_selected(document: Document) -> None:
    """A bend in the middle of the longest straight of the run that is selected."""
    layout, run = document.layout, document.selected_part
    points = reshape.points(layout, run)
    lengths = [abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in pairwise(points)]
    stretch = lengths.index(max(lengths))
    (xa, ya), (xb, yb) = points[stretch : stretch + 2]
    add_bend(document, run, stretch, ((xa + xb) / 2, (ya + yb) / 2))


def remove_active(document: Document, active: Handle | None) -> None:
    """Take away the bend that the hand held last; of a run that is selected, else its last one."""
    layout, run = document.layout, document.selected_part
    index = active.corner if active is not None and active.hold is Hold.CORNER else -1
    index = index if 0 <= index < len(layout.runs[run].via) else len(layout.runs[run].via) - 1
    document.apply(f"Remove a bend of {run}", reshape.remove_bend(layout, run, index))


def has_bend(layout: Layout, run: str) -> bool:
    """Whether a part is a run with a bend in it."""
    return run in layout.runs and bool(layout.runs[run].via)
