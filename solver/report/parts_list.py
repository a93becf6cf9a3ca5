"""What a line is built from: lengths by size and material, bends, fittings, intakes and screens by kind."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from solver.geometry.outline import Joint, bore, ends
from solver.layout.kinds import Bend, FittingKind
from solver.layout.parts import Fitting, Intake, Layout, Pump, Run, Screen, Tee
from solver.network.rows import Row, RowKind
from solver.network.walls import material
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import capitalised, printable, significant
from solver.report.escaping import cell
from solver.report.other_pumps import limit_text

PIPE, BENDS, FITTINGS, INTAKES, SCREENS, PUMPS = "pipe", "bends", "fittings", "intakes", "screens", "pumps"
GROUPS = (PIPE, BENDS, FITTINGS, INTAKES, SCREENS, PUMPS)
"""In the order in which they are listed."""

COLUMNS = ("file", "alternative", "group", "item", "size", "bore_m", "count", "length_m", "parts")

MITRES = (Bend.MITRE, Bend.TWO_WELD_MITRE, Bend.THREE_WELD_MITRE)
BENT_IN_PLACE = "bent in place"
"""Bends that no fitting is bought for: the pipe or hose itself makes them."""

UNCOUNTED = (
    BENT_IN_PLACE,
    FittingKind.KNOWN_K,
    FittingKind.FLOW_COEFFICIENT,
    FittingKind.KNOWN_DROP,
    FittingKind.MAKERS_CURVE,
)
"""Named by a figure, not by what is bought: there is no plural."""

DIGITS = 6
"""Significant figures of a length and of a bore in a table: a bore is sold by hundredths of a millimetre."""

BORE_CHANGE = "bore change (reducer)"
"""At a joint, wherever the ledger charges one that is no fitting of the drawing."""

SHORTEST = 0.0005
"""A change of length that nobody saws [m]."""


@dataclass(frozen=True, slots=True)
class Item:
    """One line of the list: so many pieces, or so much of a length."""

    group: str
    what: str  # "ball valve", "commercial steel"
    size: str  # a standard's name; "" where a bore was typed
    bore: float  # inside diameter [m]
    count: int = 0
    length: float | None = None  # of a pipe, along its centre line [m]
    parts: tuple[str, ...] = ()  # in the drawing

    @property
    def key(self) -> tuple[str, str, str, float]:
        """What two rows have alike that are bought as one thing."""
        return self.group, self.what, self.size, round(self.bore, 6)

    @property
    def named(self) -> str:
        """What it is, of so many as there are."""
        if self.count < 2 or self.length is not None or self.what in UNCOUNTED:
            return self.what
        word = next(each for each in (" (", ", ", "") if each in self.what)
        head, sign, rest = self.what.partition(word) if word else (self.what, "", "")
        return f"{head}s{sign}{rest}"

    def size_in(self, system: System) -> str:
        """The size, or the bore in the units of a system."""
        return self.size or f"bore {typeset(self.bore, Kind.BORE, system)}"

    def amount_in(self, system: System) -> str:
        """How much of it, in the units of a system."""
        if self.length is None:
            return str(self.count)
        return typeset(self.length, Kind.LENGTH, system)


def parts_list(layout: Layout, rows: Iterable[Row]) -> tuple[Item, ...]:
    """Everything that a line is built from, group by group, alike things together.

    Parameters: `layout`, the drawing; `rows`, of its network. Lengths are developed, out of the plane too; a
    bend that the pipe itself makes counts in its length, and every other is a fitting of its own.
    """
    own = list(rows)
    parts: list[Item] = []
    for run in layout.runs.values():
        parts += _of_run(run, [row for row in own if row.part == run.name])
    parts += [
        _bore_change(layout, row)
        for row in own
        if row.kind is RowKind.BORE_CHANGE and row.part in layout.runs
    ]
    parts += [_fitting(part, layout.units) for part in layout.fittings.values()]
    parts += [_tee(part) for part in layout.tees.values()]
    parts += [_intake(part, layout.units) for part in layout.intakes.values()]
    parts += [_pump(part, layout.units) for part in layout.pumps.values()]
    return tuple(_together(parts))


def _together(parts: Iterable[Item]) -> Iterator[Item]:
    kept: dict[tuple[str, str, str, float], Item] = {}
    for item in parts:
        before = kept.get(item.key)
        kept[item.key] = item if before is None else _sum(before, item)
    yield from sorted(kept.values(), key=lambda item: GROUPS.index(item.group))


def _sum(one: Item, other: Item) -> Item:
    length = None if one.length is None or other.length is None else one.length + other.length
    parts = tuple(dict.fromkeys((*one.parts, *other.parts)))
    return replace(one, count=one.count + other.count, length=length, parts=parts)


def _of_run(run: Run, rows: Sequence[Row]) -> Iterator[Item]:
    straights = sum(row.length for row in rows if row.kind is RowKind.STRAIGHT)
    arcs = sum(row.arc for row in rows)
    bends = sum(row.kind in (RowKind.BEND, RowKind.CORNER) for row in rows)
    size, inside = run.size or "", bore(run)
    bent = run.bend_radius is not None
    length = straights + (arcs if bent else 0.0)
    yield Item(PIPE, material(run) or "pipe", size, inside, 1, length, (run.name,))
    if bends:
        what = BENT_IN_PLACE if bent else f"{run.bend}" + ("" if run.bend in MITRES else " bend")
        yield Item(BENDS, what.replace("elbow bend", "elbow"), size, inside, bends, parts=(run.name,))


def _bore_change(layout: Layout, row: Row) -> Item:
    """What takes a run to the bore of the part that it ends on, the larger size first."""
    run = layout.runs[row.part]
    name = row.element.removeprefix(f"{RowKind.BORE_CHANGE} at ")
    joints: dict[str, Joint] = {**layout.fittings, **layout.tees, **layout.intakes, **layout.pumps}
    inside, (one, other) = bore(run), ends(joints[name])
    own = min(one, other) if inside > row.bore else max(one, other)
    sized = sorted([(inside, run.size), (own, _size_at(joints[name], own))], key=lambda end: -end[0])
    named = (size or typeset(width, Kind.BORE, layout.units) for width, size in sized)
    return Item(FITTINGS, BORE_CHANGE, " to ".join(named), row.bore, 1, parts=(run.name, name))


def _size_at(part: Joint, width: float) -> str | None:
    """The size of the end of a part that is that wide [m]; None where its bore was typed."""
    reduced = isinstance(part, Fitting) and width != bore(part)
    return part.other_size if reduced and isinstance(part, Fitting) else part.size


def _fitting(part: Fitting, system: System) -> Item:
    size = part.size or ""
    if part.other_size:
        size = f"{size} to {part.other_size}"
    what = str(part.kind)
    if part.kind == FittingKind.FLEXIBLE_CONNECTOR and part.length is not None:
        what += f", {typeset(part.length.si, Kind.LENGTH, system)} long"
    return _with_screen(Item(FITTINGS, what, size, bore(part), 1, parts=(part.name,)), part.screen, system)


def _tee(part: Tee) -> Item:
    return Item(FITTINGS, "tee", part.size or "", bore(part), 1, parts=(part.name,))


def _intake(part: Intake, system: System) -> Item:
    item = Item(INTAKES, str(part.kind), part.size or "", bore(part), 1, parts=(part.name,))
    return _with_screen(item, part.screen, system)


def _pump(part: Pump, system: System) -> Item:
    """A pump by what tells it from another of its kind: what it displaces, and what its maker allows."""
    displaces = "" if part.displacement is None else typeset(part.displacement.si, Kind.DISPLACEMENT, system)
    limit = limit_text(part.limit, system)
    limit = f"limit {limit}{' (assumed)' if part.limit_assumed else ''}" if limit else ""
    what = ", ".join(filter(None, (f"{part.type} pump", displaces, limit)))
    return Item(PUMPS, what, part.size or "", bore(part), 1, parts=(part.name,))


def _with_screen(item: Item, screen: Screen | None, system: System) -> Item:
    """A part bought with its screen as one thing: by mesh and area as typed, or by the maker's points."""
    if screen is None:
        return item
    if screen.mesh is not None and screen.wire is not None and screen.area is not None:
        wire, area = screen.wire.si, typeset(screen.area.si, Kind.AREA, system)
        opening = 1.0 / screen.mesh.si - wire
        width, clear = (significant(each, Kind.BORE, system) for each in (wire, opening))
        what = f"mesh {screen.mesh.text}, wire {width}, opening {clear}, {area}"
    else:
        what = "element by its maker's figures"
    if screen.bypass is not None:
        what += f", bypass from {typeset(screen.bypass.si, Kind.PRESSURE, system)}"
    return replace(item, group=SCREENS, what=f"{item.what}, {what}")


def changed(before: Iterable[Item], after: Iterable[Item]) -> tuple[tuple[Item, ...], tuple[Item, ...]]:
    """What a second list has more of than a first, and what less: to be bought, and left over."""
    old, new = ({item.key: item for item in items} for items in (before, after))
    more = [_difference(item, old.get(key)) for key, item in new.items()]
    less = [_difference(item, new.get(key)) for key, item in old.items()]
    return tuple(filter(None, more)), tuple(filter(None, less))


def _difference(item: Item, other: Item | None) -> Item | None:
    """So much more of an item than of the other; None where it is no more."""
    if other is None:
        return item
    count = item.count - other.count
    if item.length is None or other.length is None:
        return replace(item, count=count) if count > 0 else None
    length = item.length - other.length
    return replace(item, count=max(count, 0), length=length) if length > SHORTEST else None


def text(items: Sequence[Item], system: System) -> str:
    """The list for a reader, an item a line."""
    lines = ["Parts list"]
    group = ""
    for item in items:
        if item.group != group:
            group = item.group
            lines.append(f"  {capitalised(group)}")
        named = f"  ({', '.join(item.parts)})" if item.parts else ""
        lines.append(f"    {item.amount_in(system):>9}  {item.named}, {item.size_in(system)}{named}")
    return printable("\n".join(lines), keep="\n") + "\n"


def table(items: Iterable[Item], file: str, alternative: str = "") -> str:
    """The list as CSV lines in the order of `COLUMNS`, SI, without the heading."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    for item in items:
        row: tuple[Any, ...] = (
            file, alternative, item.group, item.what, item.size, _rounded(item.bore), item.count,
            "" if item.length is None else _rounded(item.length), "; ".join(item.parts),
        )  # fmt: skip
        writer.writerow([cell(value) for value in row])
    return text.getvalue()


def _rounded(value: float) -> float:
    return float(f"{value:.{DIGITS}g}")


def heading() -> str:
    """The first line of the table."""
    return ",".join(COLUMNS) + "\n"


def records(items: Iterable[Item]) -> list[dict[str, Any]]:
    """The list as JSON objects, SI."""
    return [
        {
            "group": item.group,
            "item": item.what,
            "size": item.size or None,
            "bore_m": item.bore,
            "count": item.count,
            "length_m": item.length,
            "parts": list(item.parts),
        }
        for item in items
    ]
