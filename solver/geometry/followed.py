"""What a moved part did to its lines besides stretching them: bends that came or went, pumps turned."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import chain, compress, pairwise
from operator import attrgetter, is_not

from solver.geometry.outline import NEAR, STRAIGHT_ANGLE, XY, corners
from solver.layout.parts import Layout, Run

END, START = attrgetter("end"), attrgetter("start")
SIDES = {(0, 1): "above", (0, -1): "below", (1, 0): "the right", (-1, 0): "the left"}


def followed_text(before: Layout, after: Layout) -> str:
    """What of the lines is otherwise after a move; "" where they have stretched alone."""
    return ", ".join((*_bends_changed(before, after), *_pumps_turned(before, after)))


def with_followed(label: str, before: Layout, after: Layout) -> str:
    """What the undo menu calls a move, with what it did to the lines."""
    text = followed_text(before, after)
    return f"{label}: {text}" if text else label


def _bends_changed(before: Layout, after: Layout) -> Iterator[str]:
    if before.runs is after.runs or before.runs.keys() != after.runs.keys():
        return
    for name in compress(after.runs, map(is_not, after.runs.values(), before.runs.values())):
        more = bend_count(after, after.runs[name]) - bend_count(before, before.runs[name])
        if more:
            yield f"{abs(more)} bend{'s' * (abs(more) > 1)} {'more' if more > 0 else 'less'} in {name}"


def _pumps_turned(before: Layout, after: Layout) -> Iterator[str]:
    for name, pump in after.pumps.items():
        was = before.pumps.get(name)
        if was is None or was is pump:
            continue
        run = _line_to(before, name)
        side = _side(after, run, name)
        if side and side != _side(before, run, name):
            yield f"{name} turned, its line now comes from {side}"


def _legs(layout: Layout, run: Run) -> list[XY]:
    """From each point of a run to the next, where they are not one [m]."""
    legs = ((b[0] - a[0], b[1] - a[1]) for a, b in pairwise(corners(layout, run)))
    return [leg for leg in legs if math.hypot(*leg) > NEAR]


def bend_count(layout: Layout, run: Run) -> int:
    """How many corners of a run turn it."""
    turns = (
        math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])
        for a, b in pairwise(_legs(layout, run))
    )
    return sum(abs(turn) > STRAIGHT_ANGLE for turn in turns)


def _line_to(layout: Layout, pump: str) -> str:
    """The run on a pump; "" for none."""
    runs = layout.runs
    ends = (compress(runs, map(pump.__eq__, map(end, runs.values()))) for end in (END, START))
    return next(chain.from_iterable(ends), "")


def _side(layout: Layout, name: str, pump: str) -> str:
    """From where a line comes to its pump; "" where it is not drawn."""
    run = layout.runs.get(name)
    legs = _legs(layout, run) if run is not None else []
    if run is None or not legs:
        return ""
    dx, dy = legs[-1] if run.end == pump else (-legs[0][0], -legs[0][1])
    return SIDES[(0, -1 if dy > 0 else 1) if abs(dy) > abs(dx) else (-1 if dx > 0 else 1, 0)]
