"""Readings that stay at their taps while lines are cut, joined and renamed: pure functions on readings.

A reading whose place is gone is kept as it was written down; who shows it says that it has no place.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise

from sketch.editing.edits import renew
from solver.field import places
from solver.geometry import outline
from solver.geometry.outline import GeometryError
from solver.layout.logged import LoggedReading
from solver.layout.parts import Layout, Run
from solver.quantities.units import Kind, Quantity

Readings = tuple[LoggedReading, ...]


def renamed(readings: Iterable[LoggedReading], name: str, wanted: str) -> Readings:
    """Readings with a part under another name."""
    return tuple(each.with_part_named(name, wanted) for each in readings)


def case_renamed(readings: Iterable[LoggedReading], name: str, wanted: str) -> Readings:
    """Readings of a case under another name of it."""
    return tuple(replace(each, case=wanted) if each.case == name else each for each in readings)


def line_renamed(readings: Iterable[LoggedReading], name: str, wanted: str) -> Readings:
    """Readings of an alternative under another name of it; "" is the drawing itself."""
    return tuple(replace(each, line=wanted) if each.line == name else each for each in readings)


def lines_exchanged(readings: Iterable[LoggedReading], one: str, other: str, called: str) -> Readings:
    """Readings after the alternative `other` took the place of the line `one`, which is then `called`."""
    names = {one: called, other: one}
    return tuple(replace(each, line=names.get(each.line, each.line)) for each in readings)


def cut(before: Layout, after: Layout, run: str, rest: str) -> Readings:
    """Readings after a run was cut in two, the run itself and `rest` behind the cut."""
    old, new = before.runs[run], after.runs[run]
    first = length(before, old) - length(after, after.runs[rest])

    def moved(reading: LoggedReading) -> LoggedReading:
        if reading.run != run:
            return reading
        if reading.joint:
            return replace(reading, run=rest) if reading.joint == old.end else reading
        if reading.distance is None or reading.distance.si < first:
            return reading
        return replace(
            reading, run=rest, distance=renew(reading.distance, reading.distance.si - first, Kind.LENGTH)
        )

    return tuple(map(moved, before.readings)) if new.start == old.start else before.readings


def readings_on_joined_run(
    before: Layout, after: Layout, pieces: tuple[tuple[Run, bool], tuple[Run, bool]]
) -> Readings:
    """Readings after two runs became one under the name of the first.

    pieces: the two runs as they were, in the order of the new one, and whether each was turned round.
    """
    (first, first_turned), (second, second_turned) = pieces
    whole = after.runs[first.name]
    lengths = {run.name: length(before, run) for run in (first, second)}
    offset = length(after, whole) - lengths[second.name]
    ends = {whole.start, whole.end}

    def moved(reading: LoggedReading) -> LoggedReading:
        if reading.run not in lengths or (reading.joint in ends and reading.run == whole.name):
            return reading
        if reading.joint in ends:
            return replace(reading, run=whole.name)
        run, turned = (first, first_turned) if reading.run == first.name else (second, second_turned)
        along = reading.distance.si if reading.distance is not None else 0.0
        if reading.joint:
            along = 0.0 if reading.joint == run.start else lengths[run.name]
        along = lengths[run.name] - along if turned else along
        along = max(along + (offset if run is second else 0.0), 0.0)
        old = reading.distance or Quantity("0 m", 0.0)
        return replace(reading, run=whole.name, joint="", distance=renew(old, along, Kind.LENGTH))

    return tuple(map(moved, before.readings))


def length(layout: Layout, run: Run) -> float:
    """Developed length of a run [m]; from corner to corner where its bends do not fit."""
    try:
        return places.length(layout, run.name)
    except GeometryError:
        return sum(math.dist(one, other) for one, other in pairwise(outline.corners(layout, run)))
