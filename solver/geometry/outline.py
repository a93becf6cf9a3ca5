"""Where the lines run: their straights and bends.

Lengths and elevations in metres, angles in radians; y is up.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

from solver.geometry.moving import move_corner as move_corner
from solver.geometry.moving import move_part as move_part
from solver.geometry.radii import Joint as Joint
from solver.geometry.radii import bend_radius as bend_radius
from solver.geometry.radii import bore as bore
from solver.geometry.radii import nominal as nominal
from solver.geometry.squaring import XY as XY
from solver.layout.kinds import REDUCER_KINDS
from solver.layout.parts import Fitting, Layout, Run
from solver.properties import sizes
from solver.quantities import columns
from solver.quantities.units import Kind, show

ALIKE = 1e-9
"""Of two ways round a reducer, by how much less of a step in logarithms of the bores neither suits better."""

STRAIGHT_ANGLE = math.radians(0.5)
"""A corner that turns less than this is taken for straight: typed figures are rounded to 0.1 mm."""

NEAR = 1e-6
"""Points closer than this are one point [m]."""

A_LITTLE = 0.01
"""Share of a straight that it lacks, up to which two rounded lengths would say less than words."""

_ARC_STEP = math.radians(7.5)


class GeometryError(ValueError):
    """A part that cannot be built as drawn."""

    def __init__(self, part: str, text: str) -> None:
        super().__init__(f"{part}: {text}")
        self.part = part
        self.text = text


@dataclass(frozen=True, slots=True)
class Piece:
    """One straight or bend of a run, in order from its start."""

    element: str  # "straight 1", "bend 1": numbered by the straight or corner it belongs to
    bend: bool
    length: float  # developed, with its share of out_of_plane; 0 for a bend, whose arc adds no friction [m]
    angle: float  # the bend turns through this [rad]; 0 for a straight
    path: tuple[XY, ...]  # centre line as drawn
    arc: float = 0.0  # length of a bend along its centre line [m]


def ends(part: Joint | Run) -> tuple[float, float]:
    """Inside diameters of a part's two ends [m], which differ in a reducer alone. Raises SizeError."""
    one = bore(part)
    if not isinstance(part, Fitting) or part.kind not in REDUCER_KINDS:
        return one, one
    return one, part.other_bore.si if part.other_bore is not None else sizes.bore(part.other_size or "")


def bore_at(part: Joint, run: Run, other: Run | None) -> float:
    """Inside diameter of a part where a run joins it [m]; a reducer's ends differ.

    other: the other run on the part. A reducer is fitted the way round that suits the two of them better;
    where neither does, with the end that is given first at the run that leads to it as drawn.
    Raises SizeError as `bore`.
    """
    if not isinstance(part, Fitting) or part.kind not in REDUCER_KINDS:
        return bore(part)
    one, two = ends(part)
    straight, turned = _mismatch(one, run), _mismatch(two, run)
    if other is not None:
        straight, turned = straight + _mismatch(two, other), turned + _mismatch(one, other)
    # Of two runs that are both wider or both narrower neither way suits better, but for rounding.
    if abs(straight - turned) <= ALIKE:
        return one if other is None or _leads_to(part.name, run, other) else two
    return one if straight < turned else two


def _leads_to(part: str, run: Run, other: Run) -> bool:
    """Whether of two runs on a part this one comes first as they are drawn; by their names where both do."""
    ours, its = run.end == part, other.end == part
    return ours if ours is not its else run.name < other.name


def _mismatch(width: float, run: Run) -> float:
    return abs(columns.log(width / bore(run)))


def position(part: Joint) -> XY:
    """Where a part stands, (x, y) [m]."""
    return part.at[0].si, part.at[1].si


def corners(layout: Layout, run: Run) -> list[XY]:
    """The points of a run from part to part, its corners between, [(x, y), ...] [m]."""
    inner = [(x.si, y.si) for x, y in run.via]
    return [position(layout.joint(run.start)), *inner, position(layout.joint(run.end))]


def direction(layout: Layout, run: Run, joint: str) -> XY:
    """Unit direction in which a run leaves a part; (0, 0) where it is not drawn, out of the plane."""
    points = corners(layout, run)
    if run.start != joint:
        points.reverse()
    for x, y in points[1:]:
        length = columns.hypot(x - points[0][0], y - points[0][1])
        if length > NEAR:
            return (x - points[0][0]) / length, (y - points[0][1]) / length
    return 0.0, 0.0


_TURNS_ITSELF = {"angle valve": math.pi / 2, "three-way valve, branch": math.pi / 2}
"""What a fitting turns the flow through in its body, which its coefficient holds [rad]."""


def corner_angle(layout: Layout, fitting: Fitting, runs: tuple[Run, Run]) -> float:
    """Angle by which two runs that meet at a fitting are out of line [rad]; 0 where they are nearly in line.

    Of an angle valve, what is more than it turns itself.
    """
    one, two = (direction(layout, run, fitting.name) for run in runs)
    if one == (0.0, 0.0) or two == (0.0, 0.0):
        return 0.0
    angle = abs(columns.atan2(two[0] * one[1] - two[1] * one[0], -one[0] * two[0] - one[1] * two[1]))
    angle = columns.largest(angle - _TURNS_ITSELF.get(fitting.kind, 0.0), 0.0)
    return 0.0 if angle < STRAIGHT_ANGLE else columns.collapsed(angle)


def outline(layout: Layout, run: Run) -> tuple[Piece, ...]:
    """A run's straights and bends from its start to its end.

    Each bend takes r·tan(θ/2) off the straights on either side of its corner. The length out of the plane
    of the drawing is shared over the straights in proportion to their length as drawn, so that the friction
    of a run does not hang on where its hidden part lies.

    Raises GeometryError where bends need more length than there is, where the run doubles back on itself,
    and where it has no length at all.
    """
    points = _distinct(corners(layout, run))
    hidden = run.out_of_plane.si if run.out_of_plane is not None else 0.0
    if len(points) == 1:
        if hidden <= 0:
            raise GeometryError(run.name, "has no length: both its ends are at the same place")
        return (Piece("straight 1", bend=False, length=hidden, angle=0.0, path=(points[0], points[0])),)
    legs = [_leg(a, b) for a, b in pairwise(points)]
    angles = [_turn(layout, run, corner, legs[i], legs[i + 1]) for i, corner in enumerate(points[1:-1])]
    radius = bend_radius(run) if any(angles) else 0.0
    tangents = [0.0, *(radius * columns.tan(angle / 2) for angle in angles), 0.0]
    drawn = [length - tangents[i] - tangents[i + 1] for i, (_, _, length) in enumerate(legs)]
    for i, left in enumerate(drawn):
        if left < -NEAR:
            raise _no_room(layout, run, i, tangents, legs[i][2])
    return _pieces(points, legs, angles, radius, tangents, drawn, hidden)


def _pieces(
    points: list[XY],
    legs: list[tuple[float, float, float]],
    angles: list[float],
    radius: float,
    tangents: list[float],
    drawn: list[float],
    hidden: float,
) -> tuple[Piece, ...]:
    total = sum(drawn)
    factor = 1 + hidden / total if total > NEAR else 1.0
    pieces: list[Piece] = []
    for i, (ux, uy, length) in enumerate(legs):
        x, y = points[i]
        begin = (x + ux * tangents[i], y + uy * tangents[i]) if tangents[i] else points[i]
        reach = length - tangents[i + 1]
        end = (x + ux * reach, y + uy * reach) if tangents[i + 1] else points[i + 1]
        if drawn[i] > NEAR:
            pieces.append(
                Piece(f"straight {i + 1}", bend=False, length=drawn[i] * factor, angle=0.0, path=(begin, end))
            )
        elif i == 0 and hidden > 0 and total <= NEAR:
            pieces.append(Piece("straight 1", bend=False, length=hidden, angle=0.0, path=(begin, end)))
        if i < len(angles) and angles[i]:
            path = _arc(end, legs[i], legs[i + 1], angles[i], radius)
            pieces.append(
                Piece(
                    f"bend {i + 1}", bend=True, length=0.0, angle=angles[i], path=path, arc=radius * angles[i]
                )
            )
    return tuple(pieces)


def _distinct(points: list[XY]) -> list[XY]:
    kept = [points[0]]
    for point in points[1:]:
        if abs(point[0] - kept[-1][0]) > NEAR or abs(point[1] - kept[-1][1]) > NEAR:
            kept.append(point)
    return kept


def _leg(a: XY, b: XY) -> tuple[float, float, float]:
    """Unit direction and length from a to b."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = columns.hypot(dx, dy)
    return columns.collapsed(dx / length), columns.collapsed(dy / length), length


def _turn(
    layout: Layout, run: Run, corner: XY, into: tuple[float, float, float], out: tuple[float, float, float]
) -> float:
    """Angle through which the line turns at a corner; 0 where it is as good as straight."""
    angle = abs(columns.atan2(into[0] * out[1] - into[1] * out[0], into[0] * out[0] + into[1] * out[1]))
    if angle < STRAIGHT_ANGLE:
        return 0.0
    if angle > math.pi - STRAIGHT_ANGLE:
        raise GeometryError(run.name, f"doubles back on itself at {place_text(layout, corner)}")
    return columns.collapsed(angle)


def _no_room(layout: Layout, run: Run, leg: int, tangents: list[float], length: float) -> GeometryError:
    bends = [i for i in (leg, leg + 1) if tangents[i] > 0]
    named = " and ".join(f"bend {i}" for i in bends)
    verb = "need" if len(bends) > 1 else "needs"
    needed, drawn = (length_text(layout, each) for each in (tangents[leg] + tangents[leg + 1], length))
    missing = tangents[leg] + tangents[leg + 1] - length
    more = f"{needed} of" if missing > A_LITTLE * length else "a little more than"
    return GeometryError(run.name, f"{named} {verb} {more} straight {leg + 1}, which is {drawn} long")


def _arc(
    start: XY,
    into: tuple[float, float, float],
    out: tuple[float, float, float],
    angle: float,
    radius: float,
) -> tuple[XY, ...]:
    """Points of a bend from tangent point to tangent point; the corner alone where it has no radius.

    Of a bend that stands for many variants, and so is drawn nowhere, the ends alone.
    """
    if radius <= 0:
        return (start,)
    ux, uy = into[0], into[1]
    side = 1.0 if ux * out[1] - uy * out[0] > 0 else -1.0
    nx, ny = -side * uy, side * ux
    many = any(map(columns.is_column, (*start, ux, uy, angle, radius)))
    steps = 1 if many else max(2, math.ceil(angle / _ARC_STEP))
    points = [start]
    for i in range(1, steps + 1):
        turned = angle * i / steps
        along, across = radius * columns.sin(turned), radius * (1 - columns.cos(turned))
        points.append((start[0] + along * ux + across * nx, start[1] + along * uy + across * ny))
    return tuple(points)


def length_text(layout: Layout, length: float) -> str:
    """A length [m] in the drawing's own display units."""
    return show(columns.first(length), Kind.LENGTH, layout.units)


def place_text(layout: Layout, point: XY) -> str:
    """A place on the sheet, "x, y", in the drawing's own display units."""
    return f"{length_text(layout, point[0])}, {length_text(layout, point[1])}"


_last: list[tuple[Mapping[str, Run], Mapping[str, list[Run]]]] = []


def runs_by_end(layout: Layout) -> Mapping[str, list[Run]]:
    """The runs at every part they end on; kept for the drawing last asked about, pump after pump."""
    if not _last or _last[0][0] is not layout.runs:
        ends: dict[str, list[Run]] = {}
        for run in layout.runs.values():
            for end in dict.fromkeys((run.start, run.end)):
                ends.setdefault(end, []).append(run)
        _last[:] = [(layout.runs, ends)]
    return _last[0][1]
