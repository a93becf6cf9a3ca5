"""What could be changed in the drawing that is shown: worked out on a thread of its own, when a view asks."""

from __future__ import annotations

import threading
from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import QObject, QTimer, Signal

from sketch.model.document import Document
from solver.layout.parts import Layout, Level
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import System
from solver.quantities.wording import error_text

if TYPE_CHECKING:
    from solver.fixes.fixes import Advice

IDLE_MS = 180  # of no change before the fixes are worked out
POLL_MS = 15  # between two looks at whether the thread is done


class Question(NamedTuple):
    """What the fixes belong to."""

    layout: Layout
    level: Level
    system: System


class _Job:
    """One question on its way. It holds plain values: a thread must never be the last to hold a widget."""

    def __init__(self, question: Question) -> None:
        self.question = question
        self.advice: Mapping[str, Advice] | None = None
        self.trouble = ""
        self.done = threading.Event()
        threading.Thread(target=self._work, daemon=True).start()

    def _work(self) -> None:
        from solver.fixes.fixes import advise_all

        layout, level, system = self.question
        try:
            self.advice = advise_all(replace(layout, units=system), level)
        except (NetworkError, FluidError) as error:
            self.trouble = error_text(error, system)
        except Exception as error:
            self.trouble = f"the program failed: {type(error).__name__} ({error})"
        self.done.set()


class Advisor(QObject):
    """The fixes of the drawing that is shown, for every view that wants them; which of them is pointed at."""

    changed = Signal()  # the fixes are here, or no longer those of the drawing
    previewed = Signal()  # another fix is pointed at, or none

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self._document = document
        self._answered: _Job | None = None
        self._running: _Job | None = None
        self._wanted = False
        self.preview: Layout | None = None  # the drawing with the change that is pointed at
        self._idle = QTimer(self, interval=IDLE_MS, singleShot=True)
        self._idle.timeout.connect(self._start)
        self._poll = QTimer(self, interval=POLL_MS)
        self._poll.timeout.connect(self._look)
        document.changed.connect(self._document_changed)

    def question(self) -> Question:
        """What the fixes would belong to now."""
        document = self._document
        return Question(document.layout, document.level, document.system)

    @property
    def advice(self) -> Mapping[str, Advice] | None:
        """The fixes by pump; None while those of this very drawing are not at hand."""
        return self._answered.advice if self._answered and self._is_current(self._answered) else None

    @property
    def trouble(self) -> str:
        """Why there are none; "" while that is not known."""
        return self._answered.trouble if self._answered and self._is_current(self._answered) else ""

    @property
    def busy(self) -> bool:
        """Whether fixes are asked for that are not at hand yet."""
        return self._wanted or self._running is not None

    def ask(self) -> None:
        """Have the fixes worked out once the drawing has come to rest, unless they are at hand."""
        if self._answered is None or not self._is_current(self._answered):
            self._wanted = True
            self._idle.start()

    def point(self, layout: Layout | None) -> None:
        """Say which change is pointed at, by the drawing that it makes; None for none."""
        if layout is not self.preview:
            self.preview = layout
            self.previewed.emit()

    def _is_current(self, job: _Job) -> bool:
        return job.question == self.question()

    def _document_changed(self) -> None:
        self.point(None)

    def _start(self) -> None:
        if not self._wanted or self._running is not None:
            return  # what runs is looked at again when it is done
        self._wanted = False
        if self._document.outcome.judgement is not None:
            self._running = _Job(self.question())
            self._poll.start()

    def _look(self) -> None:
        job = self._running
        if job is None or not job.done.is_set():
            return
        self._poll.stop()
        self._running = None
        if self._is_current(job):
            self._answered = job
            self.changed.emit()
        else:
            self._wanted = True
            self._idle.start()


def advisor(document: Document) -> Advisor:
    """The advisor of a document: one for all its views."""
    return document.findChild(Advisor) or Advisor(document)
