"""Checks of single parts: strokes, devices, check valves, hoses, reducers, one small function each."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, starmap

from solver.findings.criteria import Hit, Subject
from solver.findings.kinds import Severity
from solver.geometry import outline
from solver.layout.kinds import CHECK_KINDS, REDUCER_KINDS, FittingKind
from solver.layout.parts import Fitting, Intake, Layout, Pairs, Point, Run
from solver.ledger.path import HeadEntryKind
from solver.network.rows import RowKind
from solver.properties import sizes
from solver.properties.sizes import INCH
from solver.quantities.units import Kind

HOSE_BENDS = (
    "SAE J517, 100R4 suction hose, least bend radius, unverified: the hose maker's figure replaces it"
)

LEAST_BENDS: Mapping[int, float] = {
    12: 5, 16: 6, 20: 8, 24: 10, 32: 12, 40: 14, 48: 18, 56: 21, 64: 24,
}  # fmt: skip
"""By dash number: inside bend radius [in]."""

FOLDED = math.cos(math.radians(5))
"""Of the angle between two lines on a part under which one lies on the other."""

CONE = "geometry; of a reducer without a typed length, its wide bore at least: common practice, no source"

WHY_ROOM = "It cannot be built where it is drawn, and lies as high all along as the drawing has it."

SAME_PLACE = 1e-6
"""Between two places that are one [m]."""

LEVEL_LINE = math.radians(10)
"""A line that climbs less than this passes for level."""


def acceleration_head(subject: Subject) -> Iterator[Hit]:
    """Strokes that cost much of the budget."""
    for entry in subject.ledger.entries[len(subject.elements) :]:  # such a head follows the elements
        if entry.kind == HeadEntryKind.ACCELERATION:
            share = subject.share(entry.loss)
            if share is not None and share > subject.criteria.acceleration_share:
                text = (
                    f"{subject.pump.name}: an acceleration head of {subject.show(entry.loss, Kind.VACUUM)} "
                    f"takes {share:.0%} of the budget, over {subject.criteria.acceleration_share:.0%}"
                ).replace("%", " %")
                threshold = subject.criteria.acceleration_share
                yield Hit(Severity.CAUTION, subject.pump.name, entry.key, share, threshold, Kind.SHARE, text)


def beyond_the_points(subject: Subject) -> Iterator[Hit]:
    """A device that carries more than its maker has measured."""
    for entry, row, part in subject.fitted:
        points = _points(part, row.kind)
        if not points:
            continue
        flow, last = abs(entry.flow), points[-1][0].si
        if flow > last * (1 + 1e-9):
            text = (
                f"{row.part}: {subject.show(flow, Kind.FLOW)}, over the maker's last point "
                f"at {subject.show(last, Kind.FLOW)}"
            )
            yield Hit(Severity.NOTE, row.part, entry.key, flow, last, Kind.FLOW, text)


def _points(part: Fitting | Intake, kind: RowKind) -> Pairs:
    if kind == RowKind.SCREEN:
        return part.screen.drops if part.screen is not None else ()
    return part.curve.drops if isinstance(part, Fitting) and part.curve is not None else ()


def against_a_check(subject: Subject) -> Iterator[Hit]:
    """Flow that a check valve would not let through."""
    if subject.ledger.pump != next(iter(subject.solution.pumps)):
        return  # of the rows of the whole drawing, which are looked at once
    network, flows = subject.solution.network, subject.solution.flows
    if not (flows < 0.0).any():
        return
    for i, row in enumerate(network.rows):
        part = subject.layout.fittings.get(row.part) or subject.layout.intakes.get(row.part)
        flow = float(flows[i])
        if (
            part is not None
            and part.kind in CHECK_KINDS
            and flow < 0.0
            and row.kind not in (RowKind.SCREEN, RowKind.CORNER)
        ):
            text = f"{row.part}: {subject.show(-flow, Kind.FLOW)} against its {part.kind}, which would shut"
            yield Hit(Severity.CAUTION, row.part, row.key, flow, 0.0, Kind.FLOW, text)


def hose_bent_tightly(subject: Subject) -> Iterator[Hit]:
    """A hose whose bends are tighter than its kind allows."""
    parallel = (row.part for _, row in subject.parallel if row.kind == RowKind.BEND)
    for name in dict.fromkeys((*subject.way.bent, *parallel)):
        radii = hose_radii(subject.layout, name)
        if radii is None:
            continue
        inside, least = radii
        if inside < least * (1 - 1e-9):
            size = subject.layout.runs[name].size
            text = (
                f"{name}: bends of {subject.show(inside, Kind.LENGTH)} inside radius, under the "
                f"{subject.show(least, Kind.LENGTH)} that {size} takes"
            )
            yield Hit(Severity.CAUTION, name, "", inside, least, Kind.LENGTH, text)


def hose_radii(layout: Layout, name: str) -> tuple[float, float] | None:
    """Inside radius of the bends of a hose, and the least that it takes [m]; None where that is not known."""
    run = layout.runs.get(name)
    least = _least_bend(run) if run is not None else None
    if run is None or least is None:
        return None
    return outline.bend_radius(run) - outline.bore(run) / 2, least


def _least_bend(run: Run) -> float | None:
    """Least inside bend radius of a hose [m]; None where none is known."""
    if run.size is None or sizes.family(run.size) != "hose":
        return None
    inches = LEAST_BENDS.get(round(sizes.nominal(run.size, 0.0) / INCH * 16))
    return None if inches is None else inches * INCH


def doubles_back(subject: Subject) -> Iterator[Hit]:
    """Two lines that leave a part the same way, one over the other."""
    runs, joint = subject.layout.runs, subject.layout.joint
    passed = subject.way.parts | dict.fromkeys(row.part for _, row in subject.parallel)
    legs: dict[str, list[tuple[float, float]]] = {}
    for run in (runs[name] for name in passed if name in runs):
        start, end = joint(run.start).at, joint(run.end).at
        legs.setdefault(run.start, []).append(_way(start, run.via[0] if run.via else end))
        legs.setdefault(run.end, []).append(_way(end, run.via[-1] if run.via else start))
    for name, ways in legs.items():
        if len(ways) > 1 and (over := max(starmap(_overlap, combinations(ways, 2)))) > 0:
            length = subject.show(over, Kind.LENGTH)
            text = f"{name}: the line doubles back on itself here, over {length}: it cannot be built as drawn"
            advice = f"Move {name} back between its neighbours, or its neighbours past it."
            yield Hit(Severity.CAUTION, name, "", over, 0.0, Kind.LENGTH, text, advice)


def _way(at: Point, on: Point) -> tuple[float, float]:
    """From one place to another [m]."""
    (x, y), (x_on, y_on) = at, on
    return x_on.si - x.si, y_on.si - y.si


def _overlap(one: tuple[float, float], other: tuple[float, float]) -> float:
    """How far two straights from one place lie on each other [m]; 0 where they part."""
    lengths = math.hypot(*one), math.hypot(*other)
    along = one[0] * other[0] + one[1] * other[1]
    return min(lengths) if along > FOLDED * lengths[0] * lengths[1] > 0 else 0.0


def reducer_holds_air(subject: Subject) -> Iterator[Hit]:
    """A concentric reducer in a level line, whose wide end has air over the slim one."""
    for entry, _, part in subject.fitted:
        if not isinstance(part, Fitting) or part.kind != FittingKind.CONCENTRIC_REDUCER:
            continue
        if not _lies_level(subject, part):
            continue
        one, two = outline.ends(part)
        pocket = abs(one - two) / 2
        deep = subject.show(pocket, Kind.BORE)
        text = f"{part.name}: a concentric reducer in a level line holds air {deep} deep"
        yield Hit(Severity.NOTE, part.name, entry.key, pocket, 0.0, Kind.BORE, text)


def _lies_level(subject: Subject, part: Fitting) -> bool:
    """Whether both lines on a part leave it level."""
    at = outline.position(part)
    for run in subject.layout.runs.values():
        if part.name in (run.start, run.end):
            points = outline.corners(subject.layout, run)
            x, y = points[1] if run.start == part.name else points[-2]
            if abs(y - at[1]) > abs(x - at[0]) * math.tan(LEVEL_LINE):
                return False
    return True


def reducer_without_room(subject: Subject) -> Iterator[Hit]:
    """A reducer that is longer than the straights it stands between, or reaches past one of them.

    One whose length is not typed takes its wide bore at least.
    """
    for entry, row, part in subject.fitted:
        if not isinstance(part, Fitting) or part.kind not in REDUCER_KINDS or row.path == ():
            continue
        sides = _straights_on(subject, part)
        typed = part.length is not None
        length = part.length.si if part.length is not None else max(outline.ends(part))
        if not sides or length <= 2 * min(sides) * (1 + 1e-9):
            continue
        whole, near = sum(sides), min(sides)
        needs = subject.show(length, Kind.LENGTH)
        needs = f"is {needs} long" if typed else f"takes {needs} at least (its wide bore, no length is typed)"
        if whole < length * (1 - 1e-9):
            free, lacking = (subject.show(each, Kind.LENGTH) for each in (whole, length - whole))
            text = f"{part.name}: a reducer that {needs} has {free} of straight line to stand in"
            advice = f"Leave {lacking} more between what stands next to {part.name}."
            severity = Severity.CAUTION if typed else Severity.NOTE
            yield Hit(severity, part.name, entry.key, whole, length, Kind.LENGTH, text, advice)
            continue
        free, lacking = (subject.show(each, Kind.LENGTH) for each in (near, length / 2 - near))
        text = f"{part.name}: a reducer that {needs} stands {free} from what is next to it"
        advice = f"Set {part.name} {lacking} further from it: there is room on its other side."
        if length / 2 > whole - length / 2 + 1e-9:
            advice = (
                f"Set {part.name} in the middle of its {subject.show(whole, Kind.LENGTH)} of straight line."
            )
        yield Hit(Severity.NOTE, part.name, entry.key, near, length / 2, Kind.LENGTH, text, advice)


def long_connector(subject: Subject) -> Iterator[Hit]:
    """A flexible connector whose typed length is more than the straights it stands between as drawn."""
    for entry, row, part in subject.fitted:
        if not isinstance(part, Fitting) or part.kind != FittingKind.FLEXIBLE_CONNECTOR:
            continue
        sides = _straights_on(subject, part)
        if part.length is None or not sides or row.path == () or part.length.si <= sum(sides) * (1 + 1e-9):
            continue
        typed, drawn = part.length.si, sum(sides)
        is_long, has = (subject.show(each, Kind.LENGTH) for each in (typed, drawn))
        lacking = subject.show(typed - drawn, Kind.LENGTH)
        text = (
            f"{part.name}: {is_long} long as typed, on {has} of straight line as drawn; "
            "its loss counts the typed length on top of the drawn"
        )
        advice = (
            f"Draw it as long as it is: {lacking} more between what stands next to {part.name}. A line of "
            "hose is drawn as a line that has a hose as its size."
        )
        yield Hit(Severity.CAUTION, part.name, entry.key, typed, drawn, Kind.LENGTH, text, advice)


def _straights_on(subject: Subject, part: Fitting) -> list[float]:
    """How far each line on a part runs straight from it, to the next part or bend, as drawn [m]."""
    at, rows = outline.position(part), subject.solution.network.rows
    sides = []
    for run in subject.layout.runs.values():
        if part.name in (run.start, run.end):
            straights = (row.path for row in rows if row.part == run.name and row.kind == RowKind.STRAIGHT)
            sides.append(max((math.dist(*path) for path in straights if _begins_at(path, at)), default=0.0))
    return sides


def _begins_at(path: Sequence[tuple[float, float]], at: tuple[float, float]) -> bool:
    """Whether a straight, as drawn, has an end at a place."""
    return len(path) == 2 and any(math.dist(each, at) < SAME_PLACE for each in path)
