"""How sure the margin that is shown is: worked out on a thread of its own, once that is switched on."""

from __future__ import annotations

import threading
from typing import NamedTuple

from PySide6.QtCore import QObject, QTimer, Signal

from sketch.model.document import Document
from solver.layout.parts import Layout, Level
from solver.quantities import units
from solver.quantities.units import Kind, System, with_minus

IDLE_MS = 220  # of no change before the draws are made
POLL_MS = 15  # between two looks at whether the thread is done
ENDS = (0.05, 0.95)
"""Shares of the draws that lie under the ends of the band."""


class MarginBand(NamedTuple):
    """Between which margins nine in ten draws lie."""

    low: float  # [Pa]
    high: float

    def in_words(self, system: System) -> str:
        """The band with its figures; below zero is over."""
        return f"90 of 100 draws: margin {self.in_short(system)}"

    def in_short(self, system: System) -> str:
        """Its figures alone."""
        low, high = (with_minus(units.number(each, Kind.VACUUM, system)) for each in self)
        return f"{low} to {high} {units.unit(Kind.VACUUM, system)}"


class Question(NamedTuple):
    """What a band belongs to."""

    layout: Layout  # in the case that is shown
    level: Level
    pump: str


class _Job:
    """One question on its way. It holds plain values: a thread must never be the last to hold a widget."""

    def __init__(self, question: Question) -> None:
        self.question = question
        self.band: MarginBand | None = None
        self.done = threading.Event()
        threading.Thread(target=self._work, daemon=True).start()

    def _work(self) -> None:
        from solver.answers.uncertainty import uncertainty

        question = self.question
        try:
            drawn = uncertainty(question.layout, question.pump, question.level)
            ends = drawn.quantiles(*ENDS)
            self.band = MarginBand(*ends) if ends is not None else None
        except (ValueError, ArithmeticError, KeyError):
            self.band = None  # what cannot be drawn is not shown
        finally:
            self.done.set()


class Doubt(QObject):
    """The band of one document's margin, for every view that paints it. Off until it is asked for."""

    changed = Signal()

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self._document = document
        self._answered: _Job | None = None
        self._running: _Job | None = None
        self.on = False
        self._idle = QTimer(self, interval=IDLE_MS, singleShot=True)
        self._idle.timeout.connect(self._start)
        self._poll = QTimer(self, interval=POLL_MS)
        self._poll.timeout.connect(self._look)
        document.changed.connect(self._ask)

    def toggle(self) -> None:
        """Switch it on or off."""
        self.on = not self.on
        self._ask()
        self.changed.emit()

    @property
    def band(self) -> MarginBand | None:
        """That of the margin in the very drawing and case that are shown; None while it is not at hand."""
        current = self._answered is not None and self._answered.question == self._question()
        return self._answered.band if self.on and current and self._answered is not None else None

    def _question(self) -> Question | None:
        document = self._document
        solution = document.solution
        if solution is None or document.pump not in solution.pumps:
            return None
        return Question(solution.layout, solution.level, document.pump)

    def _ask(self) -> None:
        if self.on and self._question() is not None:
            self._idle.start()

    def _start(self) -> None:
        question = self._question()
        if self._running is not None or question is None or not self.on:
            return
        if self._answered is None or self._answered.question != question:
            self._running = _Job(question)
            self._poll.start()

    def _look(self) -> None:
        job = self._running
        if job is None or not job.done.is_set():
            return
        self._poll.stop()
        self._running = None
        self._answered = job
        if job.question == self._question():
            self.changed.emit()
        else:
            self._ask()


def doubt(document: Document) -> Doubt:
    """The doubt of a document: one for all its views."""
    return document.findChild(Doubt) or Doubt(document)
