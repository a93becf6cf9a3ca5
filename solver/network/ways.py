"""The rows of a network, and ways through them: what follows from the rows alone is worked out once, for all
cases that leave them as they are."""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable, Iterable, Sequence
from functools import cached_property
from itertools import accumulate, pairwise, takewhile
from operator import attrgetter
from typing import Any, NamedTuple, TypeVar

import shapely

from solver.geometry.outline import NEAR
from solver.layout.kinds import Bend
from solver.layout.parts import Point
from solver.layout.shapes import polygon
from solver.network.rows import Row, RowKind

Bounds = tuple[float, float, float, float]
"""Left, low, right and high side of a rectangle [m]."""

T = TypeVar("T")

PIPES = (RowKind.STRAIGHT, RowKind.BEND)

_WELDED_AMID = (Bend.MITRE, Bend.THREE_WELD_MITRE)
"""Bends with a weld in their middle; all but the first have joints at either end too."""

_names = attrgetter("key", "part", "element", "kind")
_sizes = attrgetter("bore", "length")


MOST_KEPT = 128
"""Results kept of how rows are joined, a few for each case: a flow that is turned gives others with every
step."""


class Joins:
    """From which node to which each row of a network leads, with what follows from that alone."""

    def __init__(self, ends: list[tuple[str, str]]) -> None:
        self.ends = ends
        self._kept: dict[Hashable, Any] = {}
        self._last_joints: dict[Hashable, _JointsOfRows] = {}  # of each way

    def once(self, what: Hashable, work_out: Callable[[], T]) -> T:
        """What follows from these joins and its key, worked out where it is first asked for."""
        if what not in self._kept:
            if len(self._kept) >= MOST_KEPT:
                self._kept.clear()
            self._kept[what] = work_out()
        kept: T = self._kept[what]
        return kept

    def last_joints(self, route: Hashable) -> _JointsOfRows:
        """Those that were found last on a way, with its rows; none where it is a new one."""
        return self._last_joints.get(route, ((), ()))

    def keep_joints(self, route: Hashable, rows: tuple[Row, ...], joints: tuple[PipeJoint, ...]) -> None:
        """Have them at hand for the next drawing that is joined alike."""
        if len(self._last_joints) >= MOST_KEPT:
            self._last_joints.clear()
        self._last_joints[route] = rows, joints


class Rows(tuple[Row, ...]):
    """The rows of a network in their order, with the ways through them that were asked for."""

    @cached_property
    def joins(self) -> Joins:
        """How they are joined."""
        return Joins([(row.start, row.end) for row in self])

    def joined_as(self, before: Joins | None) -> Joins:
        """How they are joined: as the rows of another network, where each of those leads between the same
        nodes."""
        if before is not None and before.ends == self.joins.ends:
            self.joins = before
        return self.joins

    @cached_property
    def _kept(self) -> dict[Hashable, Any]:
        return {}

    def once(self, what: Hashable, work_out: Callable[[], T]) -> T:
        """What follows from these rows and its key, worked out where it is first asked for."""
        if what not in self._kept:
            self._kept[what] = work_out()
        kept: T = self._kept[what]
        return kept

    def way(self, route: Sequence[int], forward: Iterable[bool]) -> Way:
        """The way through some rows. route: their numbers in walking order. forward: whether the fluid runs
        along each of them."""
        key = tuple(route), tuple(forward)
        return self.once(key, lambda: Way(tuple([self[i] for i in key[0]]), key, self.joins))


class PipeJoint(NamedTuple):
    """A place on a way where one part is joined to the next, or a bend that is a fitting to its run."""

    place: int  # of the row that ends at it
    sides: tuple[int, ...]  # of the rows whose pressure acts on it: that one, and a change of bore at it
    following: str  # the next part, the same of a bend; "" at the end of the way
    x: float  # [m]
    z: float  # [m]
    bend: str = ""  # where on which bend: "after bend 1 of riser"; "" where parts meet
    bend_kinds: tuple[Bend, ...] = ()  # how the bends that it belongs to are made


_JointsOfRows = tuple[tuple[Row, ...], tuple[PipeJoint, ...]]


class HighPoint(NamedTuple):
    """A place the way rises to and falls from by more than half its bore."""

    place: int  # of its row
    fall: float  # after it [m]


class Way:
    """Rows in walking order, each with whether the fluid runs along it. A place is a number in that order."""

    def __init__(
        self, rows: tuple[Row, ...], route: tuple[tuple[int, ...], tuple[bool, ...]], joins: Joins
    ) -> None:
        """route: numbers of the rows in their network, and whether the fluid runs along each. joins: of all
        rows there."""
        self.rows = rows
        self.forward = route[1]
        self._route, self._joins = route, joins
        self._within: dict[Bounds, tuple[str, ...]] = {}
        self._outside: dict[tuple[int, float], tuple[tuple[Point, ...], tuple[PipeJoint, ...]]] = {}

    @cached_property
    def name_columns(self) -> tuple[tuple[str, ...], ...]:
        """Key, part, element and kind, each of all rows."""
        return tuple(zip(*map(_names, self.rows), strict=True))

    @cached_property
    def size_columns(self) -> tuple[tuple[float, ...], ...]:
        """Bore and length [m], each of all rows."""
        return tuple(zip(*map(_sizes, self.rows), strict=True))

    @cached_property
    def end_elevations(self) -> tuple[float, ...]:
        """Elevation of the end of each row [m]."""
        return tuple([row.z_out if ahead else row.z_in for row, ahead in self._oriented])

    @cached_property
    def distances(self) -> tuple[float, ...]:
        """Developed length from the beginning to the end of each row [m]."""
        lengths = [row.length or (drawn_length(row) if row.path[1:] else 0.0) for row in self.rows]
        return tuple(accumulate(lengths))

    @cached_property
    def lengthless(self) -> tuple[int, ...]:
        """The places of rows without length."""
        return tuple([place for place, row in enumerate(self.rows) if not row.length])

    @cached_property
    def lacking(self) -> tuple[int, ...]:
        """The places of rows of which a figure is missing."""
        return tuple(place for place, row in enumerate(self.rows) if row.lacks)

    @cached_property
    def parts(self) -> dict[str, None]:
        """The parts on the way, in walking order."""
        return dict.fromkeys(row.part for row in self.rows)

    @cached_property
    def bent(self) -> dict[str, None]:
        """The parts with a bend, in walking order."""
        return dict.fromkeys(row.part for row in self.rows if row.kind == RowKind.BEND)

    @cached_property
    def pipes(self) -> tuple[int, ...]:
        """The places of straights and bends."""
        return tuple(place for place, row in enumerate(self.rows) if row.kind in PIPES)

    @cached_property
    def other_than_pipes(self) -> tuple[int, ...]:
        """The places of rows that are no pipe."""
        return tuple(place for place, row in enumerate(self.rows) if row.kind not in PIPES)

    @cached_property
    def screens(self) -> tuple[int, ...]:
        """The places of screens."""
        return tuple(place for place in self.other_than_pipes if self.rows[place].kind == RowKind.SCREEN)

    @cached_property
    def narrowest(self) -> int | None:
        """The place of the narrowest straight, the first of equal ones; None without any."""
        straights = [place for place in self.pipes if self.rows[place].kind == RowKind.STRAIGHT]
        return min(straights, key=lambda place: self.rows[place].bore, default=None)

    @cached_property
    def crown(self) -> float:
        """Elevation of its highest top of a bore [m]."""
        tops = [z + row.bore / 2 for row in self.rows for _, z in row.path]  # as `crown`, in one go
        return max(tops, default=-math.inf)

    @cached_property
    def joints(self) -> tuple[PipeJoint, ...]:
        """Where one part is joined to the next, the last to what it leads to, and bends to their runs.

        Up to the first row that is another than in the last network joined alike they are those found there.
        """
        rows, (before, known) = self.rows, self._joins.last_joints(self._route)
        alike = next(
            (at for at, (row, old) in enumerate(zip(rows, before, strict=False)) if row is not old),
            min(len(rows), len(before)),
        )
        first = max(alike - 1, 0)  # a joint hangs on the row behind it too
        joined = (*takewhile(lambda each: each.place < first, known), *joints(rows, self.forward, first))
        self._joins.keep_joints(self._route, rows, joined)
        return joined

    @cached_property
    def high_points(self) -> tuple[HighPoint, ...]:
        """Every place it rises to and falls from by more than half its bore."""
        return tuple(self._high_points())

    def _high_points(self) -> Iterable[HighPoint]:
        rising, low, top = False, math.inf, -math.inf
        at: int | None = None
        for place, (row, ahead) in enumerate(self._oriented):
            step = row.bore / 2
            for _, z in row.path if ahead else reversed(row.path):
                if rising and z > top:
                    top, at = z, place
                elif rising and z < top - step:
                    rising, low = False, z
                elif not rising and z > low + step:
                    if at is not None:
                        yield HighPoint(at, top - low)
                    rising, top, at = True, z, place
                elif not rising:
                    low = z if z < low else low  # min() takes twice the time
        if at is not None and not rising:
            yield HighPoint(at, top - low)

    @cached_property
    def _extents(self) -> list[tuple[str, float, float, float, float]]:
        """The part of each row that is drawn, and the rectangle that it takes from end to end."""
        drawn = [(row.part, *row.path[0], *row.path[-1]) for row in self.rows if row.path]
        return [
            (
                part,
                x if x < x1 else x1,  # min() and max() take five times as long
                z if z < z1 else z1,
                x1 if x < x1 else x,
                z1 if z < z1 else z,
            )
            for part, x, z, x1, z1 in drawn
        ]

    def parts_within(self, bounds: Bounds) -> tuple[str, ...]:
        """The parts with a row that comes within a rectangle."""
        kept = self._within.get(bounds)
        if kept is None:
            left, low, right, high = bounds
            near = [
                part
                for part, x, y, far, top in self._extents
                if x < right and far > left and y < high and top > low
            ]
            kept = tuple(dict.fromkeys(near))
            self._within[bounds] = kept
        return kept

    def joints_outside(self, outline: tuple[Point, ...], level: float) -> tuple[PipeJoint, ...]:
        """Those joints that do not lie within the outline of a reservoir under a level [m]."""
        kept = self._outside.get((id(outline), level))
        if kept is None:  # the outline is held, so that no other gets its identity; its hash takes long
            kept = self._outside[id(outline), level] = outline, outside(self.joints, outline, level)
        return kept[1]

    @property
    def _oriented(self) -> Iterable[tuple[Row, bool]]:
        return zip(self.rows, self.forward, strict=True)


def joints(rows: Sequence[Row], forward: Sequence[bool], first: int = 0) -> Iterable[PipeJoint]:
    """The joints of rows in walking order, each row with whether the fluid runs along it.

    first: the place from which they are wanted.
    """
    for place in range(first, len(rows)):
        row, ahead = rows[place], forward[place]
        after = rows[place + 1] if place + 1 < len(rows) else None
        if row.bend_kind is not None and row.bend_kind in _WELDED_AMID:
            before = (place - 1,) if place and rows[place - 1].part == row.part else ()
            middle = row.path[len(row.path) // 2]
            yield PipeJoint(place, (*before, place), row.part, *middle, f"in {_named(row)}", (row.bend_kind,))
        if row.path and (after is None or after.part != row.part):
            sides = _sides(rows, place)
            yield PipeJoint(place, sides, "" if after is None else after.part, *row.path[-1 if ahead else 0])
        elif after is not None and (row.bend_kind or after.bend_kind) and (kinds := _joined(row, after)):
            at = row.path[-1 if ahead else 0]
            yield PipeJoint(place, (place,), row.part, *at, _beside(row, after), kinds)


def _joined(*rows: Row) -> tuple[Bend, ...]:
    """How those of some rows are made that are bends joined to their run at either end."""
    return tuple(row.bend_kind for row in rows if row.bend_kind is not None and row.bend_kind != Bend.MITRE)


def _sides(rows: Sequence[Row], place: int) -> tuple[int, ...]:
    """The row that ends a part, and the changes of bore on either side of the joint there.

    A change of bore is a row of its run. In its narrower bore the fluid is faster, its pressure lower.
    """
    sides = [place]
    if rows[place].kind == RowKind.BORE_CHANGE and place and rows[place - 1].part == rows[place].part:
        sides.append(place - 1)
    if place + 1 < len(rows) and rows[place + 1].kind == RowKind.BORE_CHANGE:
        sides.append(place + 1)
    return tuple(sides)


def _beside(row: Row, after: Row) -> str:
    """A joint of a bend within its run, in words."""
    if not _joined(row):
        return f"before {_named(after)}"
    return f"between {row.element} and {_named(after)}" if _joined(after) else f"after {_named(row)}"


def _named(row: Row) -> str:
    return f"{row.element} of {row.part}"


def outside(joints: Sequence[PipeJoint], outline: tuple[Point, ...], level: float) -> tuple[PipeJoint, ...]:
    """Those of some joints that do not lie within the outline of a reservoir under a level [m].

    A nozzle in its wall is joined to the line outside.
    """
    low = [(each.x, each.z) for each in joints if each.z <= level]  # few: the rest lie outside
    within_it = iter(_held(polygon(outline), low) if low else ())
    return tuple([each for each in joints if each.z > level or not next(within_it)])


def _held(tank: shapely.Polygon, at: list[tuple[float, float]]) -> list[bool]:
    """Whether each of some places lies in a tank, and not in its wall."""
    in_wall = shapely.distance(tank.exterior, shapely.points(at)) <= NEAR
    held: list[bool] = (shapely.intersects_xy(tank, at) & ~in_wall).tolist()
    return held


def drawn_length(row: Row) -> float:
    """The arc of a bend, whose friction its K already holds, so that the line's distances run on [m]."""
    return row.arc or sum(math.dist(a, b) for a, b in pairwise(row.path))


def crown(row: Row) -> float:
    """Elevation of the highest top of its bore [m]; of an upright one as of one that lies, as it goes on."""
    return max((z for _, z in row.path), default=-math.inf) + row.bore / 2


def within(row: Row, bounds: Bounds) -> bool:
    """Whether a row, from end to end, comes within a rectangle."""
    if not row.path:
        return False
    left, low, right, high = bounds
    (x, z), (x1, z1) = row.path[0], row.path[-1]
    if (x >= right and x1 >= right) or (x <= left and x1 <= left):
        return False
    return (z < high or z1 < high) and (z > low or z1 > low)
