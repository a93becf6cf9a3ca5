"""Selecting on the sheet: a part, one more, the line it lies in, what a rubber band frames. No Qt here."""

from __future__ import annotations

from dataclasses import replace

from sketch.canvas import bending
from sketch.canvas.band import Band
from sketch.canvas.hand import Hand
from sketch.drawing.pointing import Targets
from sketch.drawing.view import View
from sketch.editing import selection
from sketch.editing.edits import EditError
from sketch.model.document import Document
from sketch.model.shown import toggled


class Selector:
    """Decides what a press selects; the hand holds what it may move."""

    def __init__(self, document: Document, hand: Hand) -> None:
        self._document, self._hand = document, hand
        self.band: Band | None = None
        self.trouble = ""  # why the last double click did nothing

    def press(self, targets: Targets, x: float, y: float, *, more: bool, frame: bool) -> None:
        """Hold what is at a device point and select it; with `more` add it to what is selected.

        Where there is nothing to hold, or with `frame`, a rubber band begins.
        """
        document, part = self._document, targets.part_at(x, y)
        if more and part and not frame:
            document.select_all(toggled(document.selection, part))
        elif frame or more or self._hand.press(targets.view, x, y) is None:
            at = targets.view.world(x, y)
            self.band = Band(at, at, document.selection if more or frame else ())
            if not (more or frame):
                document.select(part)

    def stretch(self, view: View, x: float, y: float) -> None:
        """Draw the rubber band to a device point and select what lies in it."""
        if self.band is not None:
            self.band = replace(self.band, end=view.world(x, y))
            self._document.select_all(self.band.selection(self._document.layout))

    def press_twice(self, targets: Targets, x: float, y: float, *, more: bool) -> bool:
        """Select the line of what is at a device point with `more`, else bend it; False where nothing is."""
        part, self.trouble = targets.part_at(x, y), ""
        if more:
            if part:
                line = selection.whole_line(self._document.layout, part)
                self._document.select_all(line or (part,))
            return True
        try:
            done = bending.bend_at(self._document, self._hand, targets, x, y)
        except EditError as error:
            self.trouble, done = str(error), True
        if done:
            self._hand.release()
        return done
