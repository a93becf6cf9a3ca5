"""What the readings of the open drawing come to: worked out on a thread of its own, when a view asks."""

from __future__ import annotations

import threading
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import QObject, QTimer, Signal

from sketch.model.document import Document
from solver.layout.parts import Layout
from solver.quantities.units import System

if TYPE_CHECKING:
    from solver.field.compared import Comparison

IDLE_MS = 180  # of no change before the readings are compared
POLL_MS = 15  # between two looks at whether the thread is done


class Question(NamedTuple):
    """What the comparisons belong to."""

    layout: Layout
    line: str  # the alternative that it is; "" for the drawing itself
    system: System


class _Job:
    """One question on its way. It holds plain values: a thread must never be the last to hold a widget."""

    def __init__(self, question: Question) -> None:
        self.question = question
        self.comparisons: tuple[Comparison, ...] = ()
        self.trouble = ""
        self.done = threading.Event()
        threading.Thread(target=self._work, daemon=True).start()

    def _work(self) -> None:
        from solver.field.compared import compare

        layout, line, system = self.question
        try:
            self.comparisons = compare(replace(layout, units=system), line)
        except Exception as error:
            self.trouble = f"the program failed: {type(error).__name__} ({error})"
        self.done.set()


class Inspector(QObject):
    """Every reading of the drawing that is shown beside what the drawing expects, for all views."""

    changed = Signal()  # the comparisons are here, or no longer those of the drawing

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self._document = document
        self._answered: _Job | None = None
        self._running: _Job | None = None
        self._wanted = False
        self._idle = QTimer(self, interval=IDLE_MS, singleShot=True)
        self._idle.timeout.connect(self._start)
        self._poll = QTimer(self, interval=POLL_MS)
        self._poll.timeout.connect(self._look)

    def question(self) -> Question:
        """What the comparisons would belong to now."""
        document = self._document
        return Question(document.layout, document.alternative, document.system)

    @property
    def comparisons(self) -> tuple[Comparison, ...] | None:
        """One for each reading, in the order of the file; None while they are not at hand."""
        return self._answered.comparisons if self._answered is not None and self._current else None

    @property
    def trouble(self) -> str:
        """Why there are none; "" while that is not known."""
        return self._answered.trouble if self._answered is not None and self._current else ""

    @property
    def busy(self) -> bool:
        """Whether comparisons are asked for that are not at hand yet."""
        return self._wanted or self._running is not None

    def ask(self) -> None:
        """Have the readings compared once the drawing has come to rest, unless that is at hand."""
        if not self._current:
            self._wanted = True
            self._idle.start()

    @property
    def _current(self) -> bool:
        return self._answered is not None and self._answered.question == self.question()

    def _start(self) -> None:
        if not self._wanted or self._running is not None:
            return  # what runs is looked at again when it is done
        self._wanted = False
        self._running = _Job(self.question())
        self._poll.start()

    def _look(self) -> None:
        job = self._running
        if job is None or not job.done.is_set():
            return
        self._poll.stop()
        self._running = None
        self._answered = job
        if self._current:
            self.changed.emit()
        else:
            self._wanted = True
            self._idle.start()


def inspector(document: Document) -> Inspector:
    """The inspector of a document: one for all its views."""
    return document.findChild(Inspector) or Inspector(document)
