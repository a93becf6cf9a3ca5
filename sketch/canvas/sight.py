"""Which part of the world the sheet shows: the whole drawing, or what it was zoomed and moved to."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from sketch.drawing.view import XY, View, bounds, fit
from sketch.model.document import Document

SMALLEST, LARGEST = 4.0, 40_000.0  # pixels a metre


class Sheet(Protocol):
    """What the drawing is shown on [pixels]."""

    def width(self) -> int: ...
    def height(self) -> int: ...


class Marks(Protocol):
    """What else than the drawing is to be in sight."""

    def in_sight(self) -> Iterable[XY]: ...


class Sight:
    """Holds the view. No widget here."""

    def __init__(self, document: Document, sheet: Sheet, marks: Marks) -> None:
        self._document, self._sheet, self._marks = document, sheet, marks
        self._view: View | None = None
        self._fitted = True

    @property
    def view(self) -> View:
        """The scale and place shown now."""
        if self._view is None:
            size = self._sheet.width(), self._sheet.height()
            self._view = fit(self._document.layout, *size, include=self._marks.in_sight())
        return self._view

    def fit(self) -> None:
        """Show the whole drawing, and go on showing it when the sheet changes its size."""
        self._view, self._fitted = None, True

    def refit(self) -> None:
        """Fit again, where the whole drawing is shown."""
        if self._fitted:
            self._view = None

    def zoom(self, factor: float, at: XY | None = None) -> None:
        """Enlarge by `factor` about a device point, by default the middle of the sheet."""
        x, y = at if at is not None else (self._sheet.width() / 2, self._sheet.height() / 2)
        factor = min(max(self.view.scale * factor, SMALLEST), LARGEST) / self.view.scale
        self._view, self._fitted = self.view.zoomed(factor, x, y), False

    def pan(self, dx: float, dy: float) -> None:
        """Move the sheet by a device distance."""
        self._view, self._fitted = self.view.panned(dx, dy), False

    def keep(self) -> None:
        """Fit again what has grown out of a fitted view."""
        if not self._fitted or self._view is None:
            return
        left, bottom, right, top = bounds(self._document.layout)
        wide, high = self._sheet.width(), self._sheet.height()
        places = (self._view.device(x, y) for x, y in ((left, bottom), (right, top)))
        if not all(0 <= x <= wide and 0 <= y <= high for x, y in places):
            self._view = None

    def bring(self, places: Iterable[XY]) -> None:
        """Move the sheet so that the middle of device points is in its middle, where that is out of sight."""
        xs, ys = zip(*places, strict=True)
        x, y = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
        wide, high = self._sheet.width(), self._sheet.height()
        if not (0 <= x <= wide and 0 <= y <= high):
            self.pan(wide / 2 - x, high / 2 - y)
