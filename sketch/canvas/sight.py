"""Which part of the world the sheet shows: the whole drawing, or what it was zoomed and moved to."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import NamedTuple, Protocol

from sketch.drawing.view import XY, View, bounds, fit
from sketch.model.document import Document
from solver.layout.parts import Layout

SMALLEST, LARGEST = 4.0, 40_000.0  # pixels a metre
EDGE = 18.0
"""Pixels along the edge in which a symbol or a figure would be cut; a fitted view leaves more than that."""


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

    @property
    def view(self) -> View:
        """The scale and place shown now."""
        if self._view is None and self._asked is not None:
            self._view = self._view_of(self._asked)
        if self._view is None:
            self._fitted, self._asked = True, None
            size = self._sheet.width(), self._sheet.height()
            further = [*self._further.in_sight(), *_ends(self._framed)]
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

    def refit(self) -> None:
        """Find the view again in another size of the sheet, where the whole drawing or a place is shown."""
        if self._fitted or self._asked is not None:
            self._view = None

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
            self._view, self._framed = None, None
        if changed is not None and not self._holds(changed):
            self._view, self._framed = None, changed

    def _holds(self, layout: Layout) -> bool:
        wide, high = self._sheet.width(), self._sheet.height()
        places = (self.view.device(x, y) for x, y in _ends(layout))
        return all(EDGE <= x <= wide - EDGE and EDGE <= y <= high - EDGE for x, y in places)

    def bring(self, places: Iterable[XY]) -> None:
        """Move the sheet so that the middle of device points is in its middle, where that is out of sight."""
        xs, ys = zip(*places, strict=True)
        x, y = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
        wide, high = self._sheet.width(), self._sheet.height()
        if not (0 <= x <= wide and 0 <= y <= high):
            self.pan(wide / 2 - x, high / 2 - y)


def _ends(layout: Layout | None) -> list[XY]:
    """The lower left and the upper right end of a drawing [m]; none without one."""
    if layout is None:
        return []
    left, bottom, right, top = bounds(layout)
    return [(left, bottom), (right, top)]
