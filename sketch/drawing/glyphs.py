"""What the line looks like on the device, before any paint: pipes along their rows, parts at their joints.

No Qt here: lists of points and numbers, so that a drawing can be tested as data.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import partial
from itertools import pairwise
from typing import NamedTuple

from sketch.drawing.meeting import Meeting, meetings, run_points
from sketch.drawing.memory import Memory
from sketch.drawing.polylines import along, toward
from sketch.drawing.view import XY, View, pump_radius
from sketch.drawing.ways import beyond, shares
from solver.geometry import outline
from solver.layout.kinds import REDUCER_KINDS, FittingKind, IntakeKind
from solver.layout.parts import Fitting, Intake, Layout, Pump, Reservoir, Run, Tee
from solver.ledger.solve import Solution
from solver.network.build import Row
from solver.network.rows import RowKind
from solver.network.ways import PIPES
from solver.properties import sizes

LEAST_BORE = 4.0
"""Logical pixels below which a pipe is not drawn thinner."""

SMALL_ARC = 12.0
"""Logical pixels from end to end below which two straight lines pass for a bend."""


class Mark(StrEnum):
    """What a symbol stands for that has no kind of its own."""

    TEE = "tee"
    PORT = "port"
    BORE_CHANGE = "bore change"
    STUB = "stub"  # what a part holds besides its screen


SymbolKind = FittingKind | IntakeKind | Mark


class Glyph(NamedTuple):
    """One thing to draw. A pipe has two points or more; a symbol has one, and its direction of flow."""

    key: str  # the entry it stands for
    part: str
    kind: RowKind | SymbolKind  # a row's for a pipe
    points: tuple[XY, ...]
    width: float  # bore on the device, at least LEAST_BORE
    share: float | None = None  # of the budget; None where there is none to tell
    crossing: float = 1.0  # where along it the floor is reached; 1 when it is not
    ux: float = 1.0
    uy: float = 0.0
    legs: tuple[XY, ...] = ()  # of a tee: unit directions in which its runs leave
    keys: tuple[str, ...] = ()  # every entry the glyph stands for
    wide: float = 0.0  # bore on the device of a reducer's other, wider end
    closed: bool = False

    @property
    def is_credit(self) -> bool:
        """Whether it gives to the budget."""
        return self.share is not None and self.share < 0.0

    @property
    def is_pipe(self) -> bool:
        """Whether it is drawn along a path, rather than at a point."""
        return len(self.points) > 1

    @property
    def middle(self) -> XY:
        """The point half-way along."""
        return along(self.points, 0.5)[0] if self.is_pipe else self.points[0]

    @property
    def length(self) -> float:
        """Along the centre line, in device units."""
        if len(self.points) == 2:
            return math.dist(*self.points)
        return sum(math.dist(a, b) for a, b in pairwise(self.points))


def reach(glyph: Glyph, dot: float) -> float:
    """Half the length of a symbol along the flow, in device units."""
    least, bores = _REACH.get(glyph.kind, (9.0, 1.1))
    if glyph.kind == Mark.STUB:
        return least * dot + bores * glyph.width
    return max(least * dot, bores * glyph.width)


_REACH = {
    IntakeKind.STRAINER: (11.0, 1.4),
    FittingKind.FILTER: (11.0, 1.4),
    IntakeKind.FOOT_VALVE: (11.0, 1.4),
    IntakeKind.POPPET_FOOT_VALVE: (11.0, 1.4),
    Mark.PORT: (3.0, 0.25),
    Mark.BORE_CHANGE: (5.0, 0.6),
    Mark.TEE: (5.0, 0.8),
    IntakeKind.PLAIN_END: (3.0, 0.3),
    IntakeKind.BELL_MOUTH: (6.0, 0.8),
    IntakeKind.WALL_NOZZLE: (3.0, 0.3),
    Mark.STUB: (4.0, 0.25),
}


def glyphs(
    layout: Layout, solution: Solution | None, view: View, pump: str, memory: Memory | None = None
) -> tuple[Glyph, ...]:
    """Everything of the line in drawing order: pipes first, then symbols.

    memory: of the last frame, for what is still the same.
    With a solution the rows say where they are drawn; without one the runs are drawn from corner to corner.
    """
    kept = memory if memory is not None else Memory()
    if solution is None:
        return (*_pipes_of_runs(layout, view), *_symbols(layout, (), view, EntryShares({}, {}), kept))
    known, rows = EntryShares(shares(solution, pump), beyond(solution, pump)), solution.network.rows
    symbols = _symbols(layout, rows, view, known, kept)
    pipes = _pipes_of_rows(layout, rows, view, known, kept)
    return (*pipes, *symbols)


@dataclass(frozen=True, slots=True)
class EntryShares:
    """What the entries of a pump say, by key: the share of its budget, and where the floor is reached."""

    shares: Mapping[str, float | None]
    past: Mapping[str, float]


def _with_share(glyph: Glyph, known: EntryShares) -> Glyph:
    """With the share of the dearest entry that it stands for."""
    keys = [key for key in glyph.keys or (glyph.key,) if key in known.shares]
    if not keys:
        return glyph
    key = keys[0] if len(keys) == 1 else max(keys, key=lambda each: _size(known.shares[each]))
    return glyph._replace(key=key, share=known.shares[key], crossing=known.past.get(key, 1.0))


def _size(share: float | None) -> float:
    return -1.0 if share is None else abs(share)


def _thick(bore: float, view: View) -> float:
    return max(bore * view.scale, LEAST_BORE * view.dot)


def _bore(part: outline.Joint | Run) -> float:
    try:
        return outline.bore(part)
    except sizes.SizeError:
        return 0.0


def _bores(part: outline.Joint) -> tuple[float, float]:
    """The bores of a part's ends [m], the slimmer one first; 0 where a size is unknown."""
    try:
        first, second = outline.ends(part)
    except sizes.SizeError:
        return 0.0, 0.0
    return min(first, second), max(first, second)


def _pipes_of_runs(layout: Layout, view: View) -> list[Glyph]:
    pipes = []
    for run in layout.runs.values():
        try:
            paths = [piece.path for piece in outline.outline(layout, run)]
        except (outline.GeometryError, sizes.SizeError):
            paths = [run_points(layout, run)]
        for path in paths:
            line = tuple(view.device(x, y) for x, y in path)
            if len(line) > 1:
                pipes.append(Glyph(run.name, run.name, RowKind.STRAIGHT, line, _thick(_bore(run), view)))
    return pipes


def _pipes_of_rows(
    layout: Layout, rows: Sequence[Row], view: View, known: EntryShares, memory: Memory
) -> list[Glyph]:
    runs, shares_of, past = layout.runs, known.shares, known.past
    places = [at for at, row in enumerate(rows) if row.kind in PIPES and row.path and row.part in runs]
    things = [(row, shares_of.get(row.key), past.get(row.key, 1.0)) for row in map(rows.__getitem__, places)]
    pipes = memory.of_each("pipes", view, things, partial(_pipe, view))
    shapes = (
        pipe or _sharp_bend(rows, at, view, thing[1:])
        for pipe, at, thing in zip(pipes, places, things, strict=True)
    )
    return [glyph for glyph in shapes if glyph is not None]


def _pipe(view: View, row: Row, share: float | None, crossing: float) -> Glyph | None:
    """A straight, or a bend with a length; None for one without."""
    if len(row.path) < 2 or row.path[0] == row.path[-1]:
        return None
    line = tuple([view.device(x, y) for x, y in row.path])
    if len(line) > 5 and math.dist(line[0], line[-1]) < SMALL_ARC * view.dot:
        line = (line[0], line[len(line) // 2], line[-1])
    return Glyph(row.key, row.part, row.kind, line, _thick(row.bore, view), share, crossing)


def _sharp_bend(rows: Sequence[Row], at: int, view: View, shown: tuple[float | None, float]) -> Glyph | None:
    row, width = rows[at], _thick(rows[at].bore, view)
    line = _corner(view.device(*row.path[0]), rows, at, width, view)
    return Glyph(row.key, row.part, row.kind, line, width, *shown) if len(line) > 1 else None


def _corner(at: XY, rows: Sequence[Row], index: int, width: float, view: View) -> tuple[XY, ...]:
    """A bend that takes no length is drawn as a corner one bore long on either side."""
    before = rows[index - 1].path if index else ()
    after = rows[index + 1].path if index + 1 < len(rows) else ()
    arms = []
    for path in (before[-2:-1], after[1:2]):
        away = toward(at, view.device(*path[0])) if path else None
        if away is not None:
            arms.append((at[0] + away[0] * width, at[1] + away[1] * width))
    return (arms[0], at, arms[1]) if len(arms) == 2 else (at,)


def _symbols(
    layout: Layout, rows: Sequence[Row], view: View, known: EntryShares, memory: Memory
) -> list[Glyph]:
    meeting = meetings(layout, rows, memory)
    keys: dict[str, list[str]] = {}
    for row in rows:
        if row.part not in layout.runs:
            keys.setdefault(row.part, []).append(row.key)
    changes = [_bore_change(layout, row, view) for row in rows if row.kind == RowKind.BORE_CHANGE]
    symbols = [_with_share(glyph, known) for glyph in changes]
    things = []
    for group in (layout.tees, layout.fittings, layout.intakes):
        for name, part in group.items():
            own = tuple(keys.get(name, ()))
            said = tuple([(known.shares.get(key), known.past.get(key), key in known.shares) for key in own])
            slim = _slimmer(layout, part) if isinstance(part, Fitting) else None
            things.append((part, own, meeting[name], said, slim))
    make = partial(_symbols_of, layout, view, known)
    for of_part in memory.of_each("symbols", view, things, make):
        symbols += of_part
    for name in layout.pumps:
        symbols += _symbols_at(layout, name, (f"{name}/port",), meeting[name], view, known)
    return symbols


def _symbols_of(
    layout: Layout, view: View, known: EntryShares, part: Tee | Fitting | Intake, own: tuple[str, ...],
    joint: Meeting, *_: object,
) -> list[Glyph]:  # fmt: skip
    return _symbols_at(layout, part.name, own, joint, view, known)


def _symbols_at(
    layout: Layout, name: str, own: tuple[str, ...], joint: Meeting, view: View, known: EntryShares
) -> list[Glyph]:
    return [_with_share(glyph, known) for glyph in _at_joint(layout, name, own, joint, view)]


def _at_joint(layout: Layout, name: str, own: tuple[str, ...], joint: Meeting, view: View) -> Iterable[Glyph]:
    """A part's symbol; what it holds besides its screen is a stub behind it, so that each entry shows."""
    part = layout.joint(name)
    kind = _kind(part)
    screened = len(own) == 2 and own[0].endswith("/screen")
    x, y = view.device(part.at[0].si, part.at[1].si)
    ux, uy = pump_way(layout, name) if isinstance(part, Pump) else joint.flow
    if isinstance(part, Fitting):
        ux, uy = _slimmer(layout, part) or (ux, uy)
    slim, wide = _bores(part)
    width = _thick(slim, view)
    main = Glyph(
        own[0] if own else name, name, kind, ((x, y),), width, ux=ux, uy=uy, legs=joint.legs,
        keys=own[:1] if screened else own, wide=_thick(wide, view) if wide > slim else 0.0,
        closed=isinstance(part, Fitting) and part.closed,
    )  # fmt: skip
    if screened:
        # It begins inside the diamond, where that is as wide as the pipe.
        off = reach(main, view.dot) - 0.25 * width + 3.0 * view.dot
        yield Glyph(
            own[1], name, Mark.STUB, ((x + ux * off, y + uy * off),), width, ux=ux, uy=uy, keys=own[1:]
        )
    yield main


def _kind(part: outline.Joint) -> SymbolKind:
    if isinstance(part, Pump):
        return Mark.PORT
    return Mark.TEE if isinstance(part, Tee) else part.kind


def _slimmer(layout: Layout, part: Fitting) -> XY | None:
    """From the wide to the slim end of a reducer, as it is fitted; None for any other part."""
    if part.kind not in REDUCER_KINDS:
        return None
    runs = [run for run in layout.runs.values() if part.name in (run.start, run.end)]
    if len(runs) != 2:
        return None
    try:
        widths = [outline.bore_at(part, run, other) for run, other in zip(runs, runs[::-1], strict=True)]
    except sizes.SizeError:
        return None
    slim = runs[0] if widths[0] < widths[1] else runs[1]
    line = run_points(layout, slim)
    way = toward(line[0], line[1]) if slim.start == part.name else toward(line[-1], line[-2])
    return (way[0], -way[1]) if way is not None else None


def _bore_change(layout: Layout, row: Row, view: View) -> Glyph:
    """A taper just off the joint, on the side of its run, from the wide bore to the narrow one."""
    before, _, after = row.key.partition("/bore change")[0].partition(">")
    line = run_points(layout, layout.runs[row.part])
    joint = after if before == row.part else before
    near, far = (line[0], line[1]) if layout.runs[row.part].start == joint else (line[-1], line[-2])
    away = toward(near, far) or (1.0, 0.0)
    width = _thick(row.bore, view)
    x, y = view.device(*near)
    room = math.hypot(far[0] - near[0], far[1] - near[1]) * view.scale
    off = min(9.0 * view.dot + max(9.0 * view.dot, width), room / 2)  # on the straight, however short
    into_run = _bore(layout.joint(joint)) >= _bore(layout.runs[row.part])
    sign = 1.0 if into_run else -1.0
    at = (x + away[0] * off, y - away[1] * off)
    return Glyph(row.key, row.part, Mark.BORE_CHANGE, (at,), width, ux=sign * away[0], uy=-sign * away[1])


def longest(shapes: Iterable[Glyph]) -> Glyph | None:
    """The longest of some pipes; None of none."""
    return max(shapes, key=lambda glyph: glyph.length, default=None)


def distance(glyph: Glyph, x: float, y: float, dot: float) -> float:
    """How far a device point is from the edge of a glyph; 0 inside it."""
    if not glyph.is_pipe:
        px, py = glyph.points[0]
        return max(math.hypot(x - px, y - py) - reach(glyph, dot), 0.0)
    best = math.inf
    for (ax, ay), (bx, by) in pairwise(glyph.points):
        dx, dy = bx - ax, by - ay
        square = dx * dx + dy * dy
        t = min(max(((x - ax) * dx + (y - ay) * dy) / square, 0.0), 1.0) if square else 0.0
        best = min(best, math.hypot(x - ax - t * dx, y - ay - t * dy))
    return max(best - glyph.width / 2, 0.0)


def pump_way(layout: Layout, name: str) -> XY:
    """The direction in which the line arrives at a pump, whichever way it was drawn; without one, from the
    tank that is nearest, across."""
    for run in outline.runs_by_end(layout).get(name, ()):
        line = run_points(layout, run)
        way = toward(line[-2], line[-1]) if run.end == name else toward(line[1], line[0])
        if way is not None:
            return way[0], -way[1]
    x = layout.pumps[name].at[0].si
    middles = [_middle(tank) for tank in layout.reservoirs.values()]
    nearest = min(middles, key=lambda middle: abs(middle - x), default=x)
    return (1.0 if nearest <= x else -1.0), 0.0


def _middle(tank: Reservoir) -> float:
    xs = [corner[0].si for corner in tank.outline]
    return (min(xs) + max(xs)) / 2.0


_last: list[tuple[Layout, View, dict[str, tuple[float, float, float]]]] = []


def pump_circle(layout: Layout, name: str, view: View) -> tuple[float, float, float]:
    """Centre and radius of a pump's symbol; its inlet port lies on the rim where the line arrives.

    Kept for the drawing last asked about, which one picture asks about several times.
    """
    kept = _last[0] if _last else None
    if kept is None or kept[0] is not layout or kept[1] is not view:
        kept = layout, view, {}
        _last[:] = [kept]
    circles = kept[2]
    if name not in circles:
        circles[name] = _pump_circle(layout, name, view)
    return circles[name]


def _pump_circle(layout: Layout, name: str, view: View) -> tuple[float, float, float]:
    x, y = view.device(layout.pumps[name].at[0].si, layout.pumps[name].at[1].si)
    ux, uy = pump_way(layout, name)
    bore = _bore(layout.joint(name))
    width, radius = _thick(bore, view), pump_radius(bore, view)
    off = radius + max(3.0 * view.dot, 0.25 * width)
    return x + ux * off, y + uy * off, radius
