"""The highest place that the shown pump's port could stand at, worked out while nothing moves."""

from __future__ import annotations

from sketch.drawing.view import XY, bounds
from sketch.model.document import Document
from solver.answers import ask
from solver.layout.parts import Layout

IN_SIGHT = 0.6  # of the drawing's height: a highest port further off does not shrink the drawing


class HighestPort:
    """Holds one answer and the layout it belongs to."""

    def __init__(self, document: Document) -> None:
        self._document = document
        self._layout: Layout | None = None
        self.height: float | None = None  # [m]; None while it is not known

    def solve(self) -> None:
        """Work it out for the drawing as it is."""
        document = self._document
        self.height, self._layout = None, document.layout
        ledger = document.ledger
        if ledger is None or not ledger.limit_reaches:  # nobody knows the limit there
            return
        answer = ask.highest_port(document.layout, document.pump, document.level, cache=document.rows)
        answered = answer.status in (ask.Status.FOUND, ask.Status.ALREADY_OVER)
        self.height = answer.value if answered else None

    def forget(self) -> None:
        """Drop what belongs to another drawing than the one shown."""
        if self._layout is not self._document.layout:
            self.height = None

    def in_sight(self) -> list[XY]:
        """Its place, where it is near enough not to shrink the drawing to a corner."""
        pump = self._document.layout.pumps.get(self._document.pump)
        if self.height is None or pump is None:
            return []
        _, bottom, _, top = bounds(self._document.layout)
        room = IN_SIGHT * (top - bottom)
        near = bottom - room <= self.height <= top + room
        return [(pump.at[0].si, self.height)] if near else []
