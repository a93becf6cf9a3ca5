"""Where a part is drawn, as figures to be typed: its port, the sides of a tank, where its return ends."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from sketch.editing import edits, reshape, stock, tanks
from sketch.editing.edits import SAME, EditError
from sketch.editing.tanks import Side
from solver.layout.parts import Layout, Point
from solver.quantities.units import Kind, Quantity, in_unit_of

SIDES = {f"side.{side.name.lower()}": side for side in Side}
RETURN = ("return.x", "return.y")
AT = ("at.x", "at.y")
STRAIGHT = "straight."  # with the number of a straight of a run: its length
PLACES = (*AT, *SIDES, *RETURN)
"""The figures by their keys on the part card. A file has them in the coordinates of what is drawn."""


def is_place(key: str) -> bool:
    """Whether a key of the card is a figure of where a part is drawn."""
    return key in PLACES or key.startswith(STRAIGHT)


def place_text(layout: Layout, name: str, key: str) -> str:
    """The figure as it was typed, or in the unit of what it is measured from; "" where there is none."""
    if key in AT:
        return layout.joint(name).at[AT.index(key)].text
    if key.startswith(STRAIGHT):
        return _straight_text(layout, name, _number(key))
    tank = layout.reservoirs[name]
    if key in RETURN:
        return tank.return_at[RETURN.index(key)].text if tank.return_at is not None else ""
    side = SIDES[key]
    axis = 0 if side in (Side.LEFT, Side.WIDTH) else 1
    now = tanks.size(tank, side)
    figures = [corner[axis] for corner in tank.outline]
    typed = next((each for each in figures if abs(each.si - now) <= SAME), None)
    far = max(figures, key=lambda each: each.si)
    return (typed or in_unit_of(far, now, Kind.LENGTH)).text


def set_places(layout: Layout, name: str, values: Mapping[str, Quantity | None]) -> Layout:
    """The layout with figures of one part set, by their keys; None takes the return of a tank away.

    Raises EditError where the part cannot be there.
    """
    for key, value in values.items():
        if key in AT and value is not None:
            layout = _port_at(layout, name, AT.index(key), value)
        elif key.startswith(STRAIGHT) and value is not None:
            layout = _straight_at(layout, name, _number(key), value)
        elif key in SIDES and value is not None:
            layout = tanks.set_size(layout, name, SIDES[key], value)
        elif key not in RETURN:
            raise EditError("needed here")
    if any(key in RETURN for key in values):
        layout = _return_at(layout, name, [values.get(key, False) for key in RETURN])
    return layout


def _number(key: str) -> int:
    """Which straight of its run a key is of, from 0."""
    return int(key.removeprefix(STRAIGHT)) - 1


def _straight_text(layout: Layout, run: str, stretch: int) -> str:
    a, b = reshape.points(layout, run)[stretch : stretch + 2]
    axis = _axis(a, b)
    if axis is None:
        return stock.length(layout, math.dist(a, b)).text
    return in_unit_of(_far_end(layout, run, stretch)[axis], math.dist(a, b), Kind.LENGTH).text


def _straight_at(layout: Layout, run: str, stretch: int, value: Quantity) -> Layout:
    """A straight of a run at a length; where it is level or upright, its far end in the unit of that."""
    moved = reshape.set_length(layout, run, stretch, value.si)
    axis = _axis(*reshape.points(moved, run)[stretch : stretch + 2])
    if axis is None or moved is layout:
        return moved
    layout = moved
    end = list(_far_end(layout, run, stretch))
    end[axis] = in_unit_of(value, end[axis].si, Kind.LENGTH)
    line, at = layout.runs[run], (end[0], end[1])
    if stretch == len(line.via):
        return edits.with_joint(layout, replace(layout.joint(line.end), at=at))
    via = (*line.via[:stretch], at, *line.via[stretch + 1 :])
    return replace(layout, runs={**layout.runs, run: replace(line, via=via)})


def _axis(a: tuple[float, float], b: tuple[float, float]) -> int | None:
    """The axis along which a straight runs from one place to another; None for one that slants."""
    level, upright = abs(a[1] - b[1]) <= SAME, abs(a[0] - b[0]) <= SAME
    return None if level == upright else 0 if level else 1


def _far_end(layout: Layout, run: str, stretch: int) -> Point:
    line = layout.runs[run]
    return line.via[stretch] if stretch < len(line.via) else layout.joint(line.end).at


def _port_at(layout: Layout, name: str, axis: int, value: Quantity) -> Layout:
    """A part's coordinate as typed, not as its old unit rounds it, with its lines stretched."""
    at = [place.si for place in layout.joint(name).at]
    at[axis] = value.si
    layout = edits.move_part(layout, name, *at)
    part = layout.joint(name)
    if abs(part.at[axis].si - value.si) > edits.LENGTH_STEP:
        return layout
    where = (value, part.at[1]) if axis == 0 else (part.at[0], value)
    return edits.with_joint(layout, replace(part, at=where))


def _return_at(layout: Layout, name: str, given: list[Quantity | bool | None]) -> Layout:
    """The end of a tank's return; False where a coordinate is not given and stays."""
    tank = layout.reservoirs[name]
    if None in given:
        return tanks.with_tank(layout, replace(tank, return_at=None))
    if tank.return_at is None and False in given:
        raise EditError("where the return ends needs its x and its elevation")
    old = tank.return_at or (given[0], given[1])
    x, y = (new if isinstance(new, Quantity) else was for new, was in zip(given, old, strict=True))
    assert isinstance(x, Quantity)
    assert isinstance(y, Quantity)
    return tanks.with_tank(layout, replace(tank, return_at=(x, y)))
