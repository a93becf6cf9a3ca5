"""Which part of the world the sheet shows: the whole drawing, or what it was zoomed and moved to."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import NamedTuple, Protocol

from sketch.drawing.view import (
    AXIS_BOTTOM,
    AXIS_LEFT,
    LEAST_PUMP,
    XY,
    View,
    bounds,
    fit,
    port_bore,
    pump_radius,
)
from sketch.model.document import Document
from solver.layout.parts import Fitting, Intake, Layout, Pump, Tee

SMALLEST, LARGEST = 4.0, 40_000.0  # pixels a metre
EDGE = 18.0
"""Pixels along the edge in which a symbol or a figure would be cut; a fitted view leaves more than that."""


LITTLE = 0.12
"""Part of its size by which the sheet may change under a notice, with the view as it was."""


PARTS = ("pumps", "intakes", "fittings", "tees")
"""What stands at one place."""

ORDINARY = 1.5, 1.0
"""Half of the width and height that a sheet shows at least where single parts alone stand on it [m]."""


class ZoomAndCentre(NamedTuple):
    """A view without the size of its sheet."""

    scale: float  # pixels a metre
    x: float  # [m] what lies in the middle of the sheet
    y: float  # [m]


class Sheet(Protocol):
    """What the drawing is shown on [pixels]."""

    def width(self) -> int: ...
    def height(self) -> int: ...


class PointsInSight(Protocol):
    """Points outside the drawing that are to be in sight with the whole of it."""

    def in_sight(self) -> Iterable[XY]: ...


class Sight:
    """Holds the view. No widget here."""

    def __init__(self, document: Document, sheet: Sheet, further: PointsInSight) -> None:
        self._document, self._sheet, self._further = document, sheet, further
        self._view: View | None = None
        self._fitted = True
        self._asked: ZoomAndCentre | None = None  # to be shown, until the hand zooms or moves the sheet
        self._framed: Layout | None = None  # a change that lies outside the drawing, to be held too
        self._before: View | None = None  # the view that comes back once that is held no longer
        self._fitted_to = (0, 0)  # the size of the sheet
        self._seen = document.layout, document.alternative  # when it was last seen to that they are in sight

    @property
    def view(self) -> View:
        """The scale and place shown now."""
        if self._view is None and self._asked is not None:
            self._view = self._view_of(self._asked)
        if self._view is None:
            self._fitted, self._asked = True, None
            size = self._fitted_to = self._sheet.width(), self._sheet.height()
            further = [*self._further.in_sight(), *_ends(self._framed), *_ordinary(self._document.layout)]
            self._view = fit(self._document.layout, *size, include=further)
        return self._view

    @property
    def place(self) -> ZoomAndCentre | None:
        """The scale and what lies in the middle; None where the whole drawing is shown."""
        view = self.view
        if self._fitted:
            return None
        return ZoomAndCentre(view.scale, *view.world(self._sheet.width() / 2, self._sheet.height() / 2))

    def show(self, place: ZoomAndCentre) -> None:
        """Show a place, whatever size the sheet gets; the whole drawing where nothing of it lies there."""
        if all(map(math.isfinite, place)) and SMALLEST <= place.scale <= LARGEST:
            self._view, self._fitted, self._asked = None, False, place

    def _view_of(self, place: ZoomAndCentre) -> View | None:
        wide, high = self._sheet.width(), self._sheet.height()
        view = View(place.scale, wide / 2 - place.x * place.scale, high / 2 + place.y * place.scale)
        left, bottom, right, top = bounds(self._document.layout)
        x0, y0 = view.device(left, top)
        x1, y1 = view.device(right, bottom)
        return view if x0 < wide and x1 > 0 and y0 < high and y1 > 0 else None

    def fit(self) -> None:
        """Show the whole drawing, and go on showing it when the sheet changes its size."""
        self._view, self._fitted, self._asked = None, True, None
        self._seen = self._document.layout, self._document.alternative

    def refit(self) -> None:
        """Find the view again in another size of the sheet, where the whole drawing or a place is shown.

        Where the sheet has changed a little, as under a notice, the whole drawing stays where it is.
        """
        if self._asked is not None or (self._fitted and not self._has_room()):
            self._view = None

    def _has_room(self) -> bool:
        """Whether the whole drawing is in sight as it is, on a sheet of about the size it was fitted to."""
        now = self._sheet.width(), self._sheet.height()
        alike = all(abs(one - fit) <= LITTLE * fit for one, fit in zip(now, self._fitted_to, strict=True))
        return self._view is not None and alike and self._holds(self._document.layout)

    def zoom(self, factor: float, at: XY | None = None) -> None:
        """Enlarge by `factor` about a device point, by default the middle of the sheet."""
        x, y = at if at is not None else (self._sheet.width() / 2, self._sheet.height() / 2)
        factor = min(max(self.view.scale * factor, SMALLEST), LARGEST) / self.view.scale
        self._view, self._fitted = self.view.zoomed(factor, x, y), False
        self._asked = None

    def pan(self, dx: float, dy: float) -> None:
        """Move the sheet by a device distance."""
        self._view, self._fitted = self.view.panned(dx, dy), False
        self._asked = None

    def keep(self) -> None:
        """Fit again what has grown out of a fitted view."""
        if not self._fitted or self._view is None:
            return
        if not self._holds(self._document.layout):
            self._view = None

    def frame(self, changed: Layout | None) -> None:
        """Have a view of the whole drawing hold a change that is pointed at, for as long as it is; None ends
        that. A view that was zoomed or moved stays."""
        if not self._fitted or (changed is None and self._framed is None):
            return
        if self._framed is not None:
            self._view, self._framed = self._before, None
            self.keep()
        if changed is not None and not self._holds(changed):
            self._before, self._view, self._framed = self._view, None, changed

    def _holds(self, layout: Layout) -> bool:
        return all(map(self._shows, _ends(layout)))

    def follow(self) -> None:
        """Bring into sight what an edit has put out of it, of the parts that were in sight before: by moving
        the sheet where it was zoomed or moved, else by fitting it again."""
        (before, shown), self._seen = self._seen, (self._document.layout, self._document.alternative)
        added = _added(before, self._document.layout) if shown == self._document.alternative else []
        if self._fitted:
            self.keep()
            if self._view is not None and any(self._out_of_sight(each) != (0.0, 0.0) for each in added):
                self._view = None
            return
        if shown != self._document.alternative:
            return  # nothing was edited
        for each in added:
            if (way := self._out_of_sight(each)) != (0.0, 0.0):
                self.pan(*way)
        moved = [ends for ends in _moved(before, self._document.layout) if self._shows(ends[0])]
        if not moved or any(self._shows(now) for _, now in moved):
            return
        xs, ys = zip(*(self.view.device(*now) for _, now in moved), strict=True)
        dx = _back(min(xs), max(xs), self._sheet.width())
        dy = _back(min(ys), max(ys), self._sheet.height())
        if dx or dy:
            self.pan(dx, dy)

    def _out_of_sight(self, part: _Part) -> XY:
        """How far the sheet must be moved for a symbol that was set down to stand whole beside the axes
        [pixels]."""
        view, place = self.view, (part.at[0].si, part.at[1].si)
        radius = pump_radius(port_bore(part), view) if isinstance(part, Pump) else LEAST_PUMP / 2
        x, y = view.device(*place)
        reach = 2.0 * radius + EDGE  # the port of a pump stands beside its middle
        across = _into(x - reach, x + reach, AXIS_LEFT, self._sheet.width())
        return across, _into(y - reach, y + reach, 0.0, self._sheet.height() - AXIS_BOTTOM)

    def _shows(self, place: XY) -> bool:
        x, y = self.view.device(*place)
        wide, high = self._sheet.width(), self._sheet.height()
        return EDGE <= x <= wide - EDGE and EDGE <= y <= high - EDGE

    def bring(self, places: Iterable[XY]) -> None:
        """Move the sheet so that the middle of device points is in its middle, where that is out of sight."""
        xs, ys = zip(*places, strict=True)
        x, y = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
        wide, high = self._sheet.width(), self._sheet.height()
        if not (0 <= x <= wide and 0 <= y <= high):
            self.pan(wide / 2 - x, high / 2 - y)


def _back(low: float, high: float, room: float) -> float:
    """How far a stretch must be moved to lie within the sheet [pixels]; 0 where any of it is in sight."""
    if high >= EDGE and low <= room - EDGE:
        return 0.0
    return room / 3 - high if high < EDGE else room * 2 / 3 - low


def _into(low: float, high: float, first: float, last: float) -> float:
    """How far a stretch must be moved to lie between two places [pixels]; 0 where it does."""
    if low < first:
        return first - low
    return min(last - high, 0.0)


def _ordinary(layout: Layout) -> list[XY]:
    """The corners of an ordinary drawing round a lone part, which would fill the sheet else [m]."""
    if layout.runs or layout.reservoirs:
        return []
    left, bottom, right, top = bounds(layout)
    x, y, (wide, high) = (left + right) / 2, (bottom + top) / 2, ORDINARY
    return [(x - wide, y - high), (x + wide, y + high)]


_Part = Pump | Intake | Fitting | Tee


def _added(before: Layout, now: Layout) -> list[_Part]:
    """The parts that an edit has set down."""
    pairs = [(getattr(before, kind), getattr(now, kind)) for kind in PARTS]
    return [news[name] for olds, news in pairs if olds is not news for name in news.keys() - olds.keys()]


def _ends(layout: Layout | None) -> list[XY]:
    """The lower left and the upper right end of a drawing [m]; none without one."""
    if layout is None:
        return []
    left, bottom, right, top = bounds(layout)
    return [(left, bottom), (right, top)]


def _moved(before: Layout, now: Layout) -> Iterator[tuple[XY, XY]]:
    """Where parts stood that an edit has moved, and where they stand [m]."""
    for kind in PARTS:
        olds, news = getattr(before, kind), getattr(now, kind)
        if olds is not news:
            for name in olds.keys() & news.keys():
                old, new = ((x.si, y.si) for x, y in (olds[name].at, news[name].at))
                if old != new:
                    yield old, new
