"""The highest place that the shown pump's port could stand at, worked out between two frames or at rest."""

from __future__ import annotations

import math
import time

from sketch.drawing.view import XY, bounds
from sketch.model.document import Document
from solver.answers import ask
from solver.answers.varied_drawing import PresentDrawing
from solver.layout.parts import Layout

IDLE_MS = 180  # of no change before it is worked out again
WHILE_DRAGGING = 0.02  # that it may take between two frames of a drag [s]
SHARE = 0.03  # of the time of a drag that it may take
OLDEST = 0.08  # it gets while that takes less of it [s]
STEADY = 1e-4  # higher than shown, it goes on being shown lower: a search ends a little off each time [m]
IN_SIGHT = 0.6  # of the drawing's height: a highest port further off does not shrink the drawing


class HighestPort:
    """Holds one answer and the layout it belongs to."""

    def __init__(self, document: Document) -> None:
        self._document = document
        self._layout: Layout | None = None
        self._late = False  # whether the drawing has moved on since
        self._ended = 0.0  # when the last one was known [s]
        self.seconds = 0.0  # that the last one took
        self.height: float | None = None  # [m]; None while it is not known

    def solve(self) -> bool:
        """Work it out for the drawing as it is; whether it is shown elsewhere now."""
        before, self.height = self.height, None
        self.height = self._solved()
        if before is not None and self.height is not None and before <= self.height < before + STEADY:
            self.height = before
        return self.height != before

    def _solved(self) -> float | None:
        document, begun = self._document, time.perf_counter()
        self._layout, self._late = document.layout, False
        ledger, judgement = document.ledger, document.outcome.judgement
        if ledger is None or judgement is None or not ledger.limit_reaches:  # nobody knows the limit there
            return None
        pump = document.pump
        solved = {
            name: case.solution
            for name, case in judgement.cases.items()
            if case.solution is not None and pump in case.solution.pumps
        }
        drawn = PresentDrawing(document.layout, pump, document.level, document.rows, solved)
        height = ask.place("highest port", drawn)
        self._ended = time.perf_counter()
        self.seconds = self._ended - begun
        return height

    def follow(self, *, moved: bool, dragging: bool) -> int:
        """How long to wait before it is worked out for a drawing that has changed [ms].

        moved: whether it may lie elsewhere now. In a drag it goes on being shown where it takes little.
        """
        self._late = self._late or moved
        if self._late and dragging and self.height is not None and self.seconds < WHILE_DRAGGING:
            rest = self._ended + max(self.seconds / SHARE, OLDEST) - time.perf_counter()
            return max(math.ceil(rest * 1000), 0)
        if self._late and self._layout is not self._document.layout:
            self.height = None
        return IDLE_MS

    def in_sight(self) -> list[XY]:
        """Its place, where it is near enough not to shrink the drawing to a corner."""
        pump = self._document.layout.pumps.get(self._document.pump)
        if self.height is None or pump is None:
            return []
        _, bottom, _, top = bounds(self._document.layout)
        room = IN_SIGHT * (top - bottom)
        near = bottom - room <= self.height <= top + room
        return [(pump.at[0].si, self.height)] if near else []
