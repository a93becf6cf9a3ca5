"""Where the world lies on the device: metres to pixels of a screen, or to dots of a page."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from solver.geometry import measured, outline
from solver.layout.parts import Layout, Pump
from solver.layout.remarks import TextAnchor, TextSize
from solver.properties import sizes

XY = tuple[float, float]

LOGICAL_INCH = 96.0
"""Logical pixels an inch: what one `dot` stands for on paper."""

# Drawing practice (ISO 5455) and its halves and quarters, and those of a scale for feet and inches, so that a
# paper scale can be read with a rule.
_STANDARD = (
    *(1, 2, 2.5, 4, 5, 6, 8, 10, 12, 15, 16, 20, 24, 25, 30, 32, 40, 48, 50, 60, 64, 75, 80, 96, 100),
    *(120, 125, 150, 200),
)


@dataclass(frozen=True, slots=True)
class View:
    """A scale and a place, nothing else; the world's y runs up, the device's down."""

    scale: float  # device units a metre
    x0: float  # device x of the world's origin
    y0: float  # device y of the world's origin
    dot: float = 1.0  # device units a logical pixel: 1 on a screen, more on paper
    true_scale: bool = False  # a page, whose scale may be stated as a ratio

    def device(self, x: float, y: float) -> XY:
        """The device point of a world point [m]."""
        return self.x0 + x * self.scale, self.y0 - y * self.scale

    def world(self, x: float, y: float) -> XY:
        """The world point [m] of a device point."""
        return (x - self.x0) / self.scale, (self.y0 - y) / self.scale

    def zoomed(self, factor: float, x: float, y: float) -> View:
        """The view enlarged by `factor` about the device point (x, y), which stays where it is."""
        return replace(
            self,
            scale=self.scale * factor,
            x0=x + (self.x0 - x) * factor,
            y0=y + (self.y0 - y) * factor,
            true_scale=False,
        )

    def panned(self, dx: float, dy: float) -> View:
        """The view moved by a device distance."""
        return replace(self, x0=self.x0 + dx, y0=self.y0 + dy)

    @property
    def ratio(self) -> float:
        """How many times smaller than life the drawing is."""
        return LOGICAL_INCH / 0.0254 * self.dot / self.scale


def points(layout: Layout) -> Iterable[XY]:
    """Every point of the drawing [m]: corners of reservoirs, parts, and corners of runs."""
    for reservoir in layout.reservoirs.values():
        yield from ((x.si, y.si) for x, y in reservoir.outline)
    for group in (layout.intakes, layout.fittings, layout.tees, layout.pumps):
        yield from ((part.at[0].si, part.at[1].si) for part in group.values())
    for run in layout.runs.values():
        yield from ((x.si, y.si) for x, y in run.via)


def _ports(layout: Layout) -> Iterable[tuple[Pump, float, float]]:
    """Every pump that a line leads to, with the direction in which the line arrives."""
    for run in layout.runs.values():
        for name, before in ((run.end, run.via[-1:]), (run.start, run.via[:1])):
            pump, other = layout.pumps.get(name), run.start if name == run.end else run.end
            if pump is None or other in layout.reservoirs:
                continue
            x, y = pump.at[0].si, pump.at[1].si
            fx, fy = before[0] if before else layout.joint(other).at
            away = math.hypot(x - fx.si, y - fy.si)
            if away > 0.0:
                yield pump, (x - fx.si) / away, (y - fy.si) / away


def _pump_ends(layout: Layout) -> Iterable[XY]:
    """The far side of every pump's symbol, which stands behind its port in the direction of the line."""
    for pump, ux, uy in _ports(layout):
        reach = 4.0 * port_bore(pump)
        yield pump.at[0].si + ux * reach, pump.at[1].si + uy * reach


def _remarks(layout: Layout) -> Iterable[XY]:
    """Where texts of one's own begin, and the ends of dimension lines [m]."""
    for text in layout.texts:
        yield text.at[0].si, text.at[1].si
    for dimension in layout.dimensions:
        yield from measured.dimension_line(layout, dimension) or ()


def pump_radius(bore: float, view: View) -> float:
    """Radius of the symbol of a pump of that bore [m], in device units."""
    return max(LEAST_PUMP * view.dot, 1.7 * bore * view.scale)


def _symbols(layout: Layout, view: View) -> Iterable[XY]:
    """Two corners of every pump's symbol [m]: it has a least size, and reaches further on a small sheet."""
    for pump, ux, uy in _ports(layout):
        radius = (pump_radius(port_bore(pump), view) + 3.0 * view.dot) / view.scale
        x, y = pump.at[0].si + ux * radius, pump.at[1].si + uy * radius
        yield x - radius, y - radius
        yield x + radius, y + radius


LETTER = {TextSize.SMALL: 5.6, TextSize.NORMAL: 6.7, TextSize.LARGE: 10.2}
"""Logical pixels that a letter of a text of one's own takes, on the average of a sentence."""

BEFORE = {TextAnchor.LEFT: 0.0, TextAnchor.MIDDLE: 0.5, TextAnchor.RIGHT: 1.0}
"""Which share of the width of a text lies to the left of its place."""

TEXT_SHARE = 0.3
"""Of the sheet's width: for more of a long text the drawing is not made smaller."""


def _text_ends(layout: Layout, view: View, width: float) -> Iterable[XY]:
    """Where texts of one's own begin and end [m], on a sheet of that width [device units]."""
    for text in layout.texts:
        wide = min(len(text.text) * LETTER[text.size] * view.dot, TEXT_SHARE * width) / view.scale
        left, y = text.at[0].si - BEFORE[text.anchor] * wide, text.at[1].si
        yield left, y
        yield left + wide, y


def port_bore(pump: Pump) -> float:
    """The bore of a pump's port [m]; 0 where its size is not known."""
    try:
        return outline.bore(pump)
    except sizes.SizeError:
        return 0.0


def bounds(layout: Layout) -> tuple[float, float, float, float]:
    """Left, bottom, right, top of the drawing [m]; room for an ordinary one when there is nothing in it."""
    corners = [
        (x, y)
        for x, y in (*points(layout), *_pump_ends(layout), *_remarks(layout))
        if math.isfinite(x) and math.isfinite(y)
    ]
    if not corners:
        return 0.0, 0.0, 3.0, 2.0
    xs, ys = zip(*corners, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


AXIS_LEFT = 44.0
AXIS_BOTTOM = 26.0
"""Logical pixels kept for the two axes."""

LEAST_PUMP = 17.0
"""Logical pixels: the least radius of a pump's symbol."""


@dataclass(frozen=True, slots=True)
class _Room:
    """What a sheet keeps round its drawing for labels, axes and legend, in device units."""

    left: float
    right: float
    top: float
    bottom: float


def _room(width: float, height: float, dot: float, margin: float) -> _Room:
    """Less of it on a small sheet, where the drawing needs the room more."""
    across = margin * dot * min(max(width / (800.0 * dot), 0.4), 1.0)
    up = margin * dot * min(max(height / (400.0 * dot), 0.4), 1.0)
    return _Room(
        left=AXIS_LEFT * dot + 36.0 * across,
        right=88.0 * across,
        top=54.0 * up,
        bottom=AXIS_BOTTOM * dot + 50.0 * up,
    )


def fit(
    layout: Layout,
    width: float,
    height: float,
    dot: float = 1.0,
    *,
    include: Iterable[XY] = (),
    also: Sequence[Layout] = (),
    true_scale: bool = False,
    margin: float = 1.0,
) -> View:
    """The view that shows the whole drawing in `width` by `height` device units.

    `include` holds further world points [m] to keep in sight, `also` further drawings that are shown in
    the same view, their symbols whole; with `true_scale` the scale is rounded down
    to a standard one and may be stated as a ratio; `margin` is a part of what is usually left for labels.
    """
    shown = (layout, *also)
    corners = [(box[:2], box[2:]) for box in map(bounds, also)]
    box = _with(bounds(layout), (*include, *chain(*corners)))
    room = _room(width, height, dot, margin)
    view = _fit(box, width, height, dot, room, true_scale=true_scale)
    for _ in range(2 if any(each.texts for each in shown) else 1):  # texts too keep their size
        keep = [(*_symbols(each, view), *_text_ends(each, view, width)) for each in shown]
        grown = _with(box, chain(*keep))
        if grown != box:
            view = _fit(grown, width, height, dot, room, true_scale=true_scale)
    return view


def fit_closely(layout: Layout, width: float, height: float, dot: float = 1.0) -> View:
    """The view that fills `width` by `height` device units with the drawing, with no room for axes."""
    room = _Room(*(4.0 * dot,) * 4)
    box = bounds(layout)
    view = _fit(box, width, height, dot, room, true_scale=False)
    for _ in range(2):  # symbols keep their size: the smaller the scale, the more room they take of it
        view = _fit(_with(box, _symbols(layout, view)), width, height, dot, room, true_scale=False)
    return view


def _with(box: tuple[float, float, float, float], more: Iterable[XY]) -> tuple[float, float, float, float]:
    left, bottom, right, top = box
    for x, y in more:
        left, right, bottom, top = min(left, x), max(right, x), min(bottom, y), max(top, y)
    return left, bottom, right, top


def _fit(
    box: tuple[float, float, float, float],
    width: float,
    height: float,
    dot: float,
    room: _Room,
    *,
    true_scale: bool,
) -> View:
    left, bottom, right, top = box
    wide, high = max(right - left, 0.05), max(top - bottom, 0.05)
    across, up = width - room.left - room.right, height - room.top - room.bottom
    scale = min(max(across, 40 * dot) / wide, max(up, 40 * dot) / high)
    if true_scale:
        scale = _standard(scale, dot)
    return View(
        scale=scale,
        x0=room.left + (across - wide * scale) / 2 - left * scale,
        y0=room.top + (up - high * scale) / 2 + top * scale,
        dot=dot,
        true_scale=true_scale,
    )


def _standard(scale: float, dot: float) -> float:
    life_size = LOGICAL_INCH / 0.0254 * dot
    for ratio in _STANDARD:
        if life_size / ratio <= scale:
            return life_size / ratio
    return life_size / (math.ceil(life_size / scale / 50) * 50)
