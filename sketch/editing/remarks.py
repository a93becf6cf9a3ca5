"""Texts and dimensions of one's own: pure edits Layout -> Layout."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from sketch.editing import edits, stock
from sketch.editing.edits import EditError
from solver.geometry import measured
from solver.layout.parts import Layout, Point
from solver.layout.remark_keys import MOST
from solver.layout.remarks import Direction, End, OwnDimension, OwnText
from solver.layout.title_keys import LONGEST
from solver.quantities.units import Kind

TEXT, DIMENSION = "text", "dimension"
REMARKS = (TEXT, DIMENSION)
"""What is put on the drawing and changes nothing of what is calculated."""

XY = tuple[float, float]


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


def add_dimension(layout: Layout, start: str | XY, end: str | XY, x: float, y: float) -> Layout:
    """A dimension between two ends, each a part by its name or a place [m], its line through (x, y) [m].

    Raises EditError where both ends are at one place.
    """
    _check_count(len(layout.dimensions), DIMENSION)
    ends = [each if isinstance(each, str) else stock.point(layout, *each) for each in (start, end)]
    a, b = (measured.place_of(layout, each) for each in ends)
    if a is None or b is None:
        raise EditError("a dimension begins and ends at a part or at a place")
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
    dimensions = list(layout.dimensions)
    dimensions[number] = replace(dimensions[number], direction=direction)
    return replace(layout, dimensions=tuple(dimensions))


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
    try:
        place = before.joint(name).at
    except KeyError:
        return before.dimensions
    return tuple(each.with_part_named(name, place) for each in before.dimensions)


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
        gone = isinstance(old, str) and old != new and measured.place_of(shown, old) is None
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
    names = {end for each in dimensions for end in (each.start, each.end) if isinstance(end, str)}
    drawn, before = tuple(now), tuple(then)
    typed = {
        name for table in unread for group in table.values() if isinstance(group, dict) for name in group
    }
    gone = {name for name in names - typed if all(measured.place_of(each, name) is None for each in drawn)}
    for name in gone:
        place = next((each.joint(name).at for each in before if measured.place_of(each, name)), None)
        kept = (each for each in dimensions if place is not None or name not in (each.start, each.end))
        dimensions = tuple(each.with_part_named(name, place) if place else each for each in kept)
    return dimensions
