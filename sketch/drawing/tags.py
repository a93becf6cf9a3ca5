"""Percentages, names and sizes beside their elements."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import lru_cache, partial
from typing import NamedTuple

from PySide6.QtGui import QColor

from sketch.drawing.glyphs import Glyph, Mark, pump_circle
from sketch.drawing.kept_places import HeldPlaces, KeptPlaces
from sketch.drawing.labels import Anchor, Box, Label, LabelKind, LabelPlace, Wish
from sketch.drawing.memory import MANY, known_of_each
from sketch.drawing.paper_places import PaperPlacer, Wanted, best_places
from sketch.drawing.pencil import Pencil
from sketch.drawing.placer import Placer
from sketch.drawing.polylines import along
from sketch.drawing.recorder import Recorder
from sketch.drawing.slopes import slope_text
from sketch.drawing.symbols import extent
from sketch.drawing.view import XY, View
from sketch.look.colours import Theme, share_colour, text_on
from solver.layout.parts import Layout, Reservoir, Run
from solver.quantities import units
from solver.quantities.units import MINUS, Kind, System

LONGEST = 200.0
"""Logical pixels: a longer name is cut short."""

FOOT = 2.0
"""Logical pixels: the radius of the dot at the foot of a leader on paper; common practice, no source."""

LEAST_SHARE = 0.01
"""Below this a percentage shows only when pointed at or selected."""


class Tag(NamedTuple):
    """A label of up to two cells: a percentage in the colour of its share, and a quiet text."""

    wish: Wish
    kind: LabelKind
    share: str = ""
    colour: QColor | None = None
    text: str = ""
    split: float = 0.0  # width of the percentage's cell
    taker: bool = False  # its element takes from the budget
    short: tuple[str, float] | None = None  # on paper, where there is no room for the text; its width


def percent(share: float) -> str:
    """A share in whole per cent, with one decimal below one."""
    value = abs(share) * 100.0
    text = f"{value:.1f}" if 0.0 < value < 0.95 else f"{value:.0f}"
    sign = MINUS if share < 0.0 and float(text) else ""
    return f"{sign}{text} %"


def tags(
    pencil: Pencil, layout: Layout, shapes: Sequence[Glyph], view: View, theme: Theme, system: System,
    shown: frozenset[str], *, on_paper: bool = False,
) -> list[Tag]:  # fmt: skip
    """Everything that wants a label, the dearest first. `shown` are keys and parts that always get theirs."""
    crowded = len(shapes) > CROWD
    make = partial(_tags_of, pencil, theme, view, shown, crowded)
    if len(shapes) > MANY:
        tags_of = known_of_each(pencil.known, ("tags", shown, crowded), shapes, make, theme, view)
    else:
        things = [(glyph,) for glyph in shapes]
        tags_of = pencil.known_each("tags", (shown, crowded), things, make, theme, view)
    ranks = [1.0 if glyph.share is None else -abs(glyph.share) for glyph in shapes]
    ranked = [tags_of[at].tag for at in sorted(range(len(ranks)), key=ranks.__getitem__)]
    wanted = [tag for tag in ranked if tag is not None]
    kept = [tag for tag in wanted if tag.kind is LabelKind.SHARE]
    kept += [tag for tag in wanted if tag.kind is not LabelKind.SHARE]
    known = pencil.known
    kept += [_pump_tag(pencil, layout, name, view) for name in layout.pumps]
    kept += [
        known(("reservoir", name, view), (reservoir,), partial(_reservoir_tag, pencil, reservoir, name, view))
        for name, reservoir in layout.reservoirs.items()
    ]
    kept += [each.slope for each in tags_of if each.slope is not None]
    if on_paper:
        return kept + list(_bore_tags_on_paper(pencil, layout, shapes, system))
    return kept + list(_bore_tags(pencil, layout, zip(shapes, tags_of, strict=True), system))


class _TagsOf(NamedTuple):
    """What a glyph wants to have beside it, and what its run's size goes by."""

    tag: Tag | None
    slope: Tag | None
    length: float  # of a pipe along its centre line, in device units; 0 of a symbol


def _tags_of(
    pencil: Pencil, theme: Theme, view: View, shown: frozenset[str], crowded: bool, glyph: Glyph
) -> _TagsOf:
    slope = _slope_tag(pencil, view, glyph) if len(glyph.points) == 2 else None
    length = glyph.length if glyph.is_pipe else 0.0
    return _TagsOf(_glyph_tag(pencil, theme, shown, crowded, glyph), slope, length)


def _wants_share(glyph: Glyph, shown: frozenset[str]) -> bool:
    if glyph.share is None:
        return False
    return (
        abs(glyph.share) >= LEAST_SHARE
        or glyph.part in shown
        or not shown.isdisjoint(glyph.keys or (glyph.key,))
    )


def _glyph_tag(
    pencil: Pencil, theme: Theme, shown: frozenset[str], crowded: bool, glyph: Glyph
) -> Tag | None:
    name = "" if glyph.is_pipe or glyph.kind in (Mark.PORT, Mark.BORE_CHANGE, Mark.STUB) else glyph.part
    value = glyph.share if _wants_share(glyph, shown) else None
    if value is None and not name:
        return None
    dot = pencil.dot
    name = pencil.elide(name, LONGEST * dot) if name else ""
    share = "" if value is None else percent(value)
    split = pencil.width(share, bold=True) + 10 * dot if share else 0.0
    wide = split + (pencil.width(name) + 8 * dot if name else 0.0)
    far = value is not None or not crowded
    wish = Wish(glyph.key, wide, pencil.height() + 3 * dot, anchors(glyph, dot), stand_off=far)
    colour = None if value is None else share_colour(value, theme)
    return Tag(
        wish,
        LabelKind.SHARE if share else LabelKind.NAME,
        share,
        colour,
        name,
        split,
        value is not None and value > 0.0,
    )


CROWD = 100
"""Elements beyond which a mere name stands beside its part or nowhere: leaders would cover the line."""

_PLACES = ((0.5,), (0.5, 0.25, 0.75), (0.5, 0.35, 0.65, 0.2, 0.8))


@lru_cache(maxsize=2048)  # most of a line stands still while a part of it is dragged
def anchors(glyph: Glyph, dot: float) -> tuple[Anchor, ...]:
    """Where a label of the glyph may belong to: a symbol has one place, a pipe several along it."""
    if not glyph.is_pipe:
        x, y = glyph.points[0]
        box = extent(glyph, dot)
        # From the side with more of the symbol on it: a lever, a wheel.
        nx, ny = -glyph.uy, glyph.ux
        clear = max(abs(nx) * max(box.right - x, x - box.x), abs(ny) * max(box.bottom - y, y - box.y))
        return Anchor(x, y, nx, ny, clear), Anchor(x, y, glyph.ux, glyph.uy, max(box.width, box.height) / 2)
    clear = glyph.width / 2 + 1.5 * dot
    if len(glyph.points) > 2:
        (x, y), way = along(glyph.points, 0.5)
        return (Anchor(x, y, *_beside(*way), clear),)
    (ax, ay), (bx, by) = glyph.points
    dx, dy = bx - ax, by - ay
    length = math.hypot(dx, dy) or 1.0
    nx, ny = _beside(dx / length, dy / length)
    places = _PLACES[min(int(length // (70 * dot)), 2)]
    return tuple([Anchor(ax + dx * at, ay + dy * at, nx, ny, clear) for at in places])


def _beside(ux: float, uy: float) -> XY:
    """Square to a direction: up where there is an up, else to the right."""
    return (-uy, ux) if -uy > 1e-9 or (abs(uy) <= 1e-9 and ux < 0) else (uy, -ux)


def _pump_tag(pencil: Pencil, layout: Layout, name: str, view: View) -> Tag:
    wide = pencil.width(name) + 8 * pencil.dot
    wish = Wish(name, wide, pencil.height(), pump_anchors(layout, name, view))
    return Tag(wish, LabelKind.NAME, text=name)


def pump_anchors(layout: Layout, name: str, view: View) -> tuple[Anchor, ...]:
    """Where the name of a pump may belong to: over and under its symbol, and on either side of it."""
    x, y, radius = pump_circle(layout, name, view)
    return tuple(Anchor(x, y, nx, ny, radius) for nx, ny in ((0.0, -1.0), (1.0, 0.0)))


def _reservoir_tag(pencil: Pencil, reservoir: Reservoir, name: str, view: View) -> Tag:
    wide, high = pencil.width(name) + 8 * pencil.dot, pencil.height()
    places = reservoir_anchors(reservoir, view, wide)
    return Tag(Wish(name, wide, high, places, stand_off=False), LabelKind.NAME, text=name)


def reservoir_anchors(reservoir: Reservoir, view: View, wide: float) -> tuple[Anchor, ...]:
    """For a name of that width inside, in a bottom corner, on the wall's own side; else on the floor, or
    under the rim."""
    dot = view.dot
    corners = [view.device(x.si, y.si) for x, y in reservoir.outline]
    low, top = max(y for _, y in corners), min(y for _, y in corners)
    feet = [x for x, y in corners if low - y < 1.0 * dot]
    left, right = min(feet) + wide / 2 + 6 * dot, max(feet) - wide / 2 - 6 * dot
    places = [Anchor(x, low - 4 * dot, 0.0, -1.0, 0.0) for x in (left, right, (left + right) / 2)]
    places += [Anchor(x, top + 4 * dot, 0.0, 1.0, 0.0) for x in (left, right)]
    return tuple(places)


def _bore_tags(
    pencil: Pencil, layout: Layout, shapes: Iterable[tuple[Glyph, _TagsOf]], system: System
) -> Iterator[Tag]:
    """A run's size, beside its longest straight, only where there is room."""
    pipes: dict[str, Glyph] = {}
    lengths: dict[str, float] = {}
    for glyph, (_, _, length) in shapes:
        if length > lengths.get(glyph.part, 40 * pencil.dot):
            pipes[glyph.part], lengths[glyph.part] = glyph, length
    for run in layout.runs.values():
        pipe = pipes.get(run.name)
        if pipe is None:
            continue
        make = partial(_bore_tag, pencil, run, pipe, system)
        tag = pencil.known(("bore", system), (run, pipe), make)
        if lengths[run.name] > 0.6 * tag.wish.width:
            yield tag


def _bore_tags_on_paper(
    pencil: Pencil, layout: Layout, shapes: Sequence[Glyph], system: System
) -> Iterator[Tag]:
    """A run's size beside any of its straights, and its name alone where there is no room for both."""
    for run in layout.runs.values():
        pipes = [glyph for glyph in shapes if glyph.part == run.name and glyph.is_pipe]
        pipes.sort(key=lambda glyph: -glyph.length)
        tags_of = [_bore_tag(pencil, run, pipe, system) for pipe in pipes if len(pipe.points) == 2]
        if tags_of:
            at = tuple(anchor for tag in tags_of for anchor in tag.wish.anchors)
            yield tags_of[0]._replace(wish=tags_of[0].wish._replace(anchors=at))


def _bore_tag(pencil: Pencil, run: Run, pipe: Glyph, system: System) -> Tag:
    dot = pencil.dot
    size = run.size or (units.show(run.bore.si, Kind.BORE, system) if run.bore else "")
    text = f"{run.name}  {size}"
    wide, short = (pencil.width(each) + 8 * dot for each in (text, run.name))
    wish = Wish(run.name, wide, pencil.height(), anchors(pipe, dot), stand_off=False)
    return Tag(wish, LabelKind.BORE, text=text, short=(run.name, short) if size else None)


def _slope_tag(pencil: Pencil, view: View, glyph: Glyph) -> Tag | None:
    """How a straight that is not square slopes on its way from the intake, where it is long enough."""
    dot = pencil.dot
    (ax, ay), (bx, by) = glyph.points
    square = abs(ax - bx) < SQUARE_ON_SHEET * dot or abs(ay - by) < SQUARE_ON_SHEET * dot
    text = (
        ""
        if square or glyph.length <= LEAST_SLOPED * dot
        else slope_text(view.world(ax, ay), view.world(bx, by))
    )
    if not text:
        return None
    wide = pencil.width(text) + 8 * dot
    wish = Wish(glyph.key, wide, pencil.height(), anchors(glyph, dot), stand_off=False)
    return Tag(wish, LabelKind.SLOPE, text=text)


SQUARE_ON_SHEET = 0.3
"""Logical pixels that a straight leans at least to be seen to slope."""

LEAST_SLOPED = 50.0
"""Logical pixels of a straight whose slope is said."""


def write(pencil: Pencil, wanted: Sequence[Tag], placer: Placer, theme: Theme, lit: str) -> list[Label]:
    """Place the tags in order and draw those that have found room; the largest taker's finds some.

    On paper a share without room for its name is shown alone, and so is the name of a run without room for
    its size.
    """
    if isinstance(placer, PaperPlacer):
        placed = list(_on_paper(placer, wanted))
    else:
        first = next((tag.wish.key for tag in wanted if tag.taker), "")
        place_of = _placing(pencil, placer)
        each = ((tag, place_of(tag.wish, tag.wish.key == first)) for tag in wanted)
        placed = [(tag, place) for tag, place in each if place is not None]
    leaders = [place.leader for _, place in placed if place.leader]
    pencil.lines(leaders, theme.construction, 0.8)
    if isinstance(placer, PaperPlacer):
        for foot, _ in leaders:
            pencil.circle(*foot, FOOT * pencil.dot, theme.ink, theme.box, 0.6)
    return pencil.repeated_each("written tags", lit, placed, partial(_draw, theme=theme, lit=lit), theme)


def _on_paper(placer: PaperPlacer, wanted: Sequence[Tag]) -> Iterator[tuple[Tag, LabelPlace]]:
    """The tags that have found room, shorter where there is none for the whole."""
    result = best_places(placer, [_wanted(tag) for tag in wanted])
    for at, (tag, place) in enumerate(zip(wanted, result.places, strict=True)):
        if place is not None:
            yield (_shorter(tag) if at in result.shorter else tag), place


def _wanted(tag: Tag) -> Wanted:
    shorter = _shorter(tag).wish if (tag.share and tag.text) or tag.short is not None else None
    return Wanted(tag.wish, shorter, share=bool(tag.share), name=tag.kind == LabelKind.NAME)


def _shorter(tag: Tag) -> Tag:
    """A share without its name, or a name without its size."""
    text, width = tag.short or ("", tag.split)
    return tag._replace(wish=tag.wish._replace(width=width), text=text)


def _placing(pencil: Pencil, placer: Placer) -> Callable[[Wish, bool], LabelPlace | None]:
    """What gives a label its place, or one anyway."""
    if not isinstance(pencil, Recorder):
        return lambda wish, anyway: placer.place_anyway(wish) if anyway else placer.place(wish)
    last: KeptPlaces | None = pencil.memory.last("places")
    if pencil.holds_labels and last is not None and last.is_for(placer):
        pencil.memory.keep("places", last)
        return HeldPlaces(placer, last).place
    places = KeptPlaces(placer, last)
    pencil.memory.keep("places", places)
    return places.place


def _label(tag: Tag, place: LabelPlace) -> Label:
    text = " ".join(each for each in (tag.share, tag.text) if each)
    return Label(tag.wish.key, tag.kind, text, place.box, place.leader)


def _draw(pencil: Pencil, tag: Tag, place: LabelPlace, theme: Theme, lit: str) -> Label:
    """A tag at its place; the label that it is. lit: the key of what is pointed at."""
    box, dot, lit_up = place.box, pencil.dot, tag.wish.key == lit
    middle = box.y + box.height / 2
    if tag.colour is not None:
        cell = Box(box.x, box.y, tag.split, box.height)
        pencil.box(
            cell, tag.colour, theme.halo if lit_up else theme.casing, 2.5 if lit_up else 1.0, radius=2.0
        )
        ink = text_on(tag.colour)
        pencil.text(box.x + tag.split / 2, middle, tag.share, ink, bold=True, align=0.5)
    if tag.text:
        colour = theme.quiet if tag.kind in (LabelKind.BORE, LabelKind.SLOPE) else theme.ink
        pencil.text(box.x + tag.split + 4 * dot, middle, tag.text, colour)
    return _label(tag, place)
