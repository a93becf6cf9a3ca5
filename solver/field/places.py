"""What the calculation expects at a place on the line: at a pump's port, or at a tap anywhere on a run."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from solver.formulas import flow as formulas
from solver.geometry import outline
from solver.layout.parts import Layout
from solver.ledger.path import Entry
from solver.ledger.solve import Solution
from solver.network.build import Row
from solver.network.rows import RowKind


class NoPlaceError(ValueError):
    """A place that is not on the pump's line as it is drawn."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a gauge is fitted: at the pump's port, or on a run so far from its start."""

    pump: str
    run: str = ""  # "" at the port
    distance: float = 0.0  # along the run's developed length, from its start as drawn [m]


class _Spot(NamedTuple):
    """The element a tap is on, and the share of it that the fluid has passed when it comes there."""

    entry: Entry
    row: Row
    passed: float


def vacuum(solution: Solution, place: Place) -> float:
    """Vacuum that a gauge at the height of a place shows [Pa], negative above the atmosphere.

    Raises NoPlaceError where the run is not on the way to the pump, KeyError for an unknown pump.
    """
    ledger = solution.pumps[place.pump]
    if not place.run:
        return ledger.vacuum
    spot = _spot(solution, place)
    rise = (spot.row.z_out - spot.row.z_in) * (1.0 if spot.entry.flow >= 0 else -1.0)
    ahead = spot.entry.loss + formulas.static_lift.scalar(ledger.density, rise)
    return ledger.atmosphere - (spot.entry.pressure + (1.0 - spot.passed) * ahead)


def height(solution: Solution, place: Place) -> float:
    """Elevation of a place [m]. Raises as `vacuum`."""
    if not place.run:
        return solution.layout.pumps[place.pump].at[1].si
    spot = _spot(solution, place)
    low, high = spot.row.z_in, spot.row.z_out
    if spot.entry.flow < 0:
        low, high = high, low
    return low + spot.passed * (high - low)


def position(solution: Solution, place: Place) -> tuple[float, float]:
    """Where a place is drawn, (x, elevation) [m]. Raises as `vacuum`."""
    if not place.run:
        x, z = solution.layout.pumps[place.pump].at
        return x.si, z.si
    spot = _spot(solution, place)
    points = spot.row.path if spot.entry.flow >= 0 else spot.row.path[::-1]
    lengths = [math.dist(a, b) for a, b in pairwise(points)]
    left = spot.passed * sum(lengths)
    for (a, b), long in zip(pairwise(points), lengths, strict=True):
        if left <= long and long > 0.0:
            return a[0] + (b[0] - a[0]) * left / long, a[1] + (b[1] - a[1]) * left / long
        left -= long
    return points[-1]


def distance(solution: Solution, place: Place) -> float:
    """Developed length from the intake to a place [m]. Raises as `vacuum`."""
    if not place.run:
        return solution.pumps[place.pump].entries[-1].distance
    spot = _spot(solution, place)
    return spot.entry.distance - (1.0 - spot.passed) * spot.row.length


def at_rest(solution: Solution, place: Place) -> float:
    """Vacuum at a place of a full line in which nothing flows [Pa]. Raises as `vacuum`."""
    ledger = solution.pumps[place.pump]
    lifted = height(solution, place) - ledger.fluid_level
    weight = formulas.static_lift.scalar(ledger.density, lifted)
    return ledger.atmosphere - ledger.surface + weight


def length(layout: Layout, run: str) -> float:
    """Developed length of a run, along its straights and the arcs of its bends [m]. Raises GeometryError."""
    drawn = layout.runs[run]
    radius = outline.bend_radius(drawn)
    return float(sum(piece.length + radius * piece.angle for piece in outline.outline(layout, drawn)))


def _spot(solution: Solution, place: Place) -> _Spot:
    index, rows = solution.network.index, solution.network.rows
    on_run = [
        (entry, rows[index[entry.key]])
        for entry in solution.pumps[place.pump].entries
        if entry.part == place.run
        and entry.key in index
        and rows[index[entry.key]].kind in (RowKind.STRAIGHT, RowKind.BEND)
    ]
    if not on_run:
        raise NoPlaceError(f"{place.run} is not on the way to {place.pump}")
    along = on_run[0][0].element.endswith(" 1")  # elements are numbered from the run's start as drawn
    left, stretch = place.distance, _stretch(solution.layout, place.run, [row for _, row in on_run])
    ordered = on_run if along else on_run[::-1]
    for entry, row in ordered:
        long = row.length / stretch + row.arc
        if left <= long or (entry, row) == ordered[-1]:
            share = min(max(left / long, 0.0), 1.0) if long > 0 else 1.0
            return _Spot(entry, row, share if along else 1.0 - share)
        left -= long
    raise AssertionError("the last element ends the search")


def _stretch(layout: Layout, run: str, rows: Sequence[Row]) -> float:
    """How many times as long as drawn the straights of a run are: its taps stay where they are drawn."""
    drawn = length(layout, run) - sum(row.arc for row in rows)
    return sum(row.length for row in rows) / drawn if drawn > 0.0 else 1.0
