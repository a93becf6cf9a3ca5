"""Texts and dimensions of one's own: pure edits Layout -> Layout."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any, NamedTuple

from sketch.editing import edits, stock
from sketch.editing.edits import EditError
from solver.geometry import measured
from solver.layout.checks import JOINTS
from solver.layout.parts import Layout, Point
from solver.layout.remark_keys import MOST
from solver.layout.remarks import Direction, End, OwnDimension, OwnText, TankCorner, TextAnchor, TextSize
from solver.layout.title_keys import LONGEST
from solver.quantities.units import Kind, Quantity, System

TEXT, DIMENSION = "text", "dimension"
REMARKS = (TEXT, DIMENSION)
"""What is put on the drawing and changes nothing of what is calculated."""


class Remark(NamedTuple):
    """A text or a dimension of one's own, by its number among those of the drawing."""

    what: str  # one of `REMARKS`
    number: int


XY = tuple[float, float]
Begun = str | XY | TankCorner
"""An end as it is put down: a part by its name, a place [m], or a corner of a reservoir."""


def count(layout: Layout, what: str) -> int:
    """How many texts, or dimensions, a drawing has."""
    return len(layout.texts if what == TEXT else layout.dimensions)


def add_text(layout: Layout, x: float, y: float, text: str) -> Layout:
    """A line of text at (x, y) [m]. Raises EditError for none, and for one too many."""
    added = OwnText(stock.point(layout, x, y), _checked(text))
    _check_count(len(layout.texts), TEXT)
    return replace(layout, texts=(*layout.texts, added))


def set_text(layout: Layout, number: int, text: str) -> Layout:
    """A text that says something else; none takes it off. Raises EditError for one too long."""
    if not text.strip():
        return remove(layout, TEXT, number)
    texts = list(layout.texts)
    texts[number] = replace(texts[number], text=_checked(text))
    return replace(layout, texts=tuple(texts))


def set_words(layout: Layout, number: int, text: str) -> Layout:
    """A text that says something else. Raises EditError for none, which takes nothing off."""
    return set_text(layout, number, _checked(text))


def set_look(
    layout: Layout, number: int, size: TextSize | str | None = None, anchor: TextAnchor | str | None = None
) -> Layout:
    """A text in another size, or with another end at its place; None leaves either as it is."""
    texts = list(layout.texts)
    old = texts[number]
    texts[number] = replace(old, size=TextSize(size or old.size), anchor=TextAnchor(anchor or old.anchor))
    return replace(layout, texts=tuple(texts))


def set_figure(layout: Layout, remark: Remark, key: str, figure: Quantity) -> Layout:
    """A text with its "x" or "y" at a figure, or a dimension with its "offset", as it is typed."""
    if remark.what == DIMENSION:
        return _with_dimension(layout, remark.number, offset=figure)
    texts = list(layout.texts)
    x, y = texts[remark.number].at
    texts[remark.number] = replace(texts[remark.number], at=(figure, y) if key == "x" else (x, figure))
    return replace(layout, texts=tuple(texts))


def _checked(text: str) -> str:
    text = " ".join(text.split())
    if not text or len(text) > LONGEST or not text.isprintable():
        raise EditError(f"a text has 1 to {LONGEST} printable characters")
    return text


def _check_count(count: int, what: str) -> None:
    if count >= MOST:
        raise EditError(f"a drawing has at most {MOST} {what}s")


def move_text(layout: Layout, number: int, x: float, y: float) -> Layout:
    """A text that begins at (x, y) [m]."""
    texts = list(layout.texts)
    texts[number] = replace(texts[number], at=_renewed(texts[number].at, x, y))
    return replace(layout, texts=tuple(texts))


def _renewed(at: Point, x: float, y: float) -> Point:
    return edits.renew(at[0], x, Kind.LENGTH), edits.renew(at[1], y, Kind.LENGTH)


def add_dimension(layout: Layout, start: Begun, end: Begun, x: float, y: float) -> Layout:
    """A dimension between two ends, its line through (x, y) [m].

    Raises EditError where both ends are at one place.
    """
    _check_count(len(layout.dimensions), DIMENSION)
    ends: list[End] = [
        each if isinstance(each, str | TankCorner) else stock.point(layout, *each) for each in (start, end)
    ]
    a, b = (measured.place_of(layout, each) for each in ends)
    if a is None or b is None:
        raise EditError("a dimension begins and ends at a part, at a corner of a tank or at a place")
    if max(abs(a[0] - b[0]), abs(a[1] - b[1])) <= edits.SAME:
        raise EditError("both ends of the dimension are at one place")
    direction = measured.direction_towards(a, b, x, y)
    offset = stock.length(layout, measured.offset_through(a, b, direction, x, y))
    added = OwnDimension(ends[0], ends[1], direction, offset)
    return replace(layout, dimensions=(*layout.dimensions, added))


def move_dimension(layout: Layout, number: int, x: float, y: float) -> Layout:
    """A dimension with its line through (x, y) [m], parallel to itself."""
    dimensions = list(layout.dimensions)
    old = dimensions[number]
    ends = measured.ends(layout, old)
    if ends is None:
        return layout
    offset = edits.renew(old.offset, measured.offset_through(*ends, old.direction, x, y), Kind.LENGTH)
    dimensions[number] = replace(old, offset=offset)
    return replace(layout, dimensions=tuple(dimensions))


def set_direction(layout: Layout, number: int, direction: Direction) -> Layout:
    """A dimension that measures another way between its ends."""
    return _with_dimension(layout, number, direction=direction)


def _with_dimension(layout: Layout, number: int, **figures: Any) -> Layout:
    dimensions = list(layout.dimensions)
    dimensions[number] = replace(dimensions[number], **figures)
    return replace(layout, dimensions=tuple(dimensions))


def set_end(layout: Layout, number: int, which: int, end: End) -> Layout:
    """A dimension that begins (0) or ends (1) elsewhere. Raises EditError where both ends are one place."""
    changed = _with_dimension(layout, number, **{("start", "end")[which]: end})
    places = measured.ends(changed, changed.dimensions[number])
    if places is not None and max(abs(a - b) for a, b in zip(*places, strict=True)) <= edits.SAME:
        raise EditError("both ends of the dimension are at one place")
    return changed


def ends_to_choose(layout: Layout) -> tuple[str, ...]:
    """Every part and tank corner that a dimension may hang on, as it is typed."""
    joints = (name for group in JOINTS for name in getattr(layout, group))
    corners = (
        end_text(TankCorner(name, number))
        for name, tank in layout.reservoirs.items()
        for number in range(len(tank.outline))
    )
    return (*joints, *corners)


def end_text(end: End) -> str:
    """An end of a dimension as it is typed: "pump", "tank, corner 2" or "4 ft; 6 in"."""
    if isinstance(end, TankCorner):
        return f"{end.reservoir}, corner {end.corner + 1}"
    return end if isinstance(end, str) else "; ".join(figure.text for figure in end)


def end_typed(layout: Layout, text: str, system: System) -> End:
    """The end that a text says. Raises EditError where the drawing has no such part or corner."""
    text = text.strip()
    if any(text in getattr(layout, group) for group in JOINTS):
        return text
    if match := _CORNER.fullmatch(text):
        corner = TankCorner(match[1], int(match[2]) - 1)
        if corner.corner >= 0 and measured.point_of(layout, corner) is not None:
            return corner
    x, parted, y = text.partition(";")
    if not parted:
        wanted = edits.place_wanted(system)
        raise EditError(f'there is no part or tank corner "{text[:40]}"; {wanted}')
    across, up = (edits.read_typed(each.strip(), Kind.LENGTH, system) for each in (x, y))
    return across, up


_CORNER = re.compile(r"(.+), corner (\d{1,4})")


def remove(layout: Layout, what: str, number: int) -> Layout:
    """The layout without one of its texts or dimensions."""
    if what == TEXT:
        return replace(layout, texts=(*layout.texts[:number], *layout.texts[number + 1 :]))
    return replace(layout, dimensions=(*layout.dimensions[:number], *layout.dimensions[number + 1 :]))


def renamed(dimensions: tuple[OwnDimension, ...], name: str, wanted: str) -> tuple[OwnDimension, ...]:
    """Dimensions with a part under another name."""
    return tuple(each.with_part_named(name, wanted) for each in dimensions)


def without_part(before: Layout, name: str) -> tuple[OwnDimension, ...]:
    """Dimensions once a part has gone: they stay at the place where it was."""

    def now(end: End) -> End:
        point = measured.point_of(before, end) if _name_of(end) == name else None
        return end if point is None else point

    return tuple(each.with_ends(now) for each in before.dimensions)


def with_corners(before: Layout, after: Layout, name: str, now: Callable[[int], int | None]) -> Layout:
    """The drawing `after` the corners of a tank were numbered again, with the dimensions that end on them.

    now: the number that a corner has since; None where it has gone, and they stay at its place.
    """

    def changed(end: End) -> End:
        if not isinstance(end, TankCorner) or end.reservoir != name:
            return end
        number = now(end.corner)
        return (measured.point_of(before, end) or end) if number is None else TankCorner(name, number)

    dimensions = tuple(each.with_ends(changed) for each in after.dimensions)
    return after if dimensions == after.dimensions else replace(after, dimensions=dimensions)


def _name_of(end: End) -> str:
    """The part that an end hangs on; "" for a place."""
    return end.reservoir if isinstance(end, TankCorner) else end if isinstance(end, str) else ""


def of_file(
    before: tuple[OwnDimension, ...],
    after: tuple[OwnDimension, ...],
    shown: Layout,
    others: tuple[Layout, ...],
) -> tuple[OwnDimension, ...]:
    """Dimensions of a file after an edit of the drawing that is `shown`.

    One that has let go of a part stays at it while another drawing of the file has that part.
    """
    if len(before) != len(after):
        return after

    def end(old: End, new: End) -> End:
        lost = isinstance(old, TankCorner) or measured.place_of(shown, old) is None
        gone = bool(_name_of(old)) and old != new and lost
        return old if gone and any(measured.place_of(each, old) is not None for each in others) else new

    return tuple(
        OwnDimension(end(old.start, new.start), end(old.end, new.end), new.direction, new.offset)
        for old, new in zip(before, after, strict=True)
    )


def with_ends_kept(
    dimensions: tuple[OwnDimension, ...],
    now: Iterable[Layout],
    then: Iterable[Layout],
    unread: Iterable[Mapping[str, Any]] = (),
) -> tuple[OwnDimension, ...]:
    """Dimensions of which an end that none of the drawings has `now` is at the place that it had `then`.

    unread: tables of alternatives that do not hold, whose parts count. One that was nowhere is left out.
    """
    hung = {end for each in dimensions for end in (each.start, each.end) if _name_of(end)}
    drawn, before = tuple(now), tuple(then)
    typed = {
        name for table in unread for group in table.values() if isinstance(group, dict) for name in group
    }
    gone = {
        end
        for end in hung
        if _name_of(end) not in typed and all(measured.place_of(each, end) is None for each in drawn)
    }
    last = {end: next(filter(None, (measured.point_of(each, end) for each in before)), None) for end in gone}
    kept = (each for each in dimensions if all(last.get(end, end) for end in (each.start, each.end)))
    return tuple(each.with_ends(lambda end: last.get(end) or end) for each in kept)
