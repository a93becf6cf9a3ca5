"""The highest place that the shown pump's port could stand at, worked out between two frames or at rest."""

from __future__ import annotations

import time

from sketch.drawing.view import XY, bounds
from sketch.model.document import Document
from solver.answers import ask
from solver.answers.trials import Drawn
from solver.layout.parts import Layout

WHILE_DRAGGING = 0.02  # that it may take between two frames of a drag [s]
IN_SIGHT = 0.6  # of the drawing's height: a highest port further off does not shrink the drawing


class HighestPort:
    """Holds one answer and the layout it belongs to."""

    def __init__(self, document: Document) -> None:
        self._document = document
        self._layout: Layout | None = None
        self.seconds = 0.0  # that the last one took
        self.height: float | None = None  # [m]; None while it is not known

    def solve(self) -> None:
        """Work it out for the drawing as it is."""
        document, begun = self._document, time.perf_counter()
        self.height, self._layout = None, document.layout
        ledger, judgement = document.ledger, document.outcome.judgement
        if ledger is None or judgement is None or not ledger.limit_reaches:  # nobody knows the limit there
            return
        pump = document.pump
        solved = {
            name: case.solution
            for name, case in judgement.cases.items()
            if case.solution is not None and pump in case.solution.pumps
        }
        drawn = Drawn(document.layout, pump, document.level, document.rows, solved)
        self.height = ask.place("highest port", drawn)
        self.seconds = time.perf_counter() - begun

    @property
    def quick(self) -> bool:
        """Whether it can be worked out anew while something is dragged."""
        return self.height is not None and self.seconds < WHILE_DRAGGING

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
