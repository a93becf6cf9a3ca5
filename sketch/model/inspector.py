"""What the readings of the open drawing come to: worked out on threads of their own, when a view asks."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Any, NamedTuple

from PySide6.QtCore import QObject, QTimer, Signal

from sketch.model.document import Document
from solver.layout.parts import Layout
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import System
from solver.quantities.wording import error_text

if TYPE_CHECKING:
    from sketch.model.read_marks import ReadMark, Reads
    from solver.field.compared import Comparison
    from solver.field.diagnosis import Diagnosis
    from solver.field.trend import Trend
    from solver.findings.outlook import Outlook
    from solver.layout.logged import LoggedReading

IDLE_MS = 180  # of no change before anything is worked out
POLL_MS = 15  # between two looks at whether the thread is done


class Question(NamedTuple):
    """What an answer belongs to."""

    layout: Layout
    line: str  # the alternative that it is; "" for the drawing itself
    system: System
    pump: str = ""
    numbers: tuple[int, ...] = ()  # readings that are explained together, by their places in the file


class _Job:
    """One question on its way. It holds plain values: a thread must never be the last to hold a widget."""

    def __init__(self, question: Question, work: Callable[[Question], Any]) -> None:
        self.question = question
        self.answer: Any = None
        self.trouble = ""
        self.done = threading.Event()
        threading.Thread(target=self._run, args=(work,), daemon=True).start()

    def _run(self, work: Callable[[Question], Any]) -> None:
        from solver.field.diagnosis import NothingToExplainError

        try:
            self.answer = work(self.question)
        except (NetworkError, FluidError, NothingToExplainError) as error:
            self.trouble = error_text(error, self.question.system)
        except Exception as error:
            self.trouble = f"the program failed: {type(error).__name__} ({error})"
        self.done.set()


class _Worker(QObject):
    """Answers the question that belongs to the drawing as it is shown, and no other."""

    changed = Signal()  # the answer is here

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
        """What an answer would belong to now."""
        document = self._document
        return Question(document.layout, document.alternative, document.system)

    @staticmethod
    def _work(question: Question) -> Any:
        """Run on a thread."""
        raise NotImplementedError

    @property
    def _answer(self) -> Any:
        """None while that of this drawing is not at hand."""
        return self._answered.answer if self._answered is not None and self.at_hand else None

    @property
    def trouble(self) -> str:
        """Why there is no answer; "" while that is not known."""
        return self._answered.trouble if self._answered is not None and self.at_hand else ""

    @property
    def busy(self) -> bool:
        """Whether an answer is asked for that is not at hand yet."""
        return self._wanted or self._running is not None

    @property
    def at_hand(self) -> bool:
        """Whether the last answer belongs to the drawing as it is shown."""
        return self._answered is not None and self._answered.question == self.question()

    def ask(self) -> None:
        """Have it worked out once the drawing has come to rest, unless it is at hand."""
        if not self.at_hand:
            self._wanted = True
            self._idle.start()

    def _start(self) -> None:
        if not self._wanted or self._running is not None:
            return  # what runs is looked at again when it is done
        self._wanted = False
        self._running = _Job(self.question(), self._work)
        self._poll.start()

    def _look(self) -> None:
        job = self._running
        if job is None or not job.done.is_set():
            return
        self._poll.stop()
        self._running = None
        self._answered = job
        if self.at_hand:
            self.changed.emit()
        else:
            self._wanted = True
            self._idle.start()


class Inspector(_Worker):
    """Every reading of the drawing that is shown beside what the drawing expects."""

    @property
    def comparisons(self) -> tuple[Comparison, ...] | None:
        """One for each reading, in the order of the file; None while they are not at hand."""
        answer: tuple[Comparison, ...] | None = self._answer
        return answer

    @staticmethod
    def _work(question: Question) -> Any:
        from solver.field.compared import compare

        return compare(replace(question.layout, units=question.system), question.line)


class Gauger(_Worker):
    """The newest reading at each place of the drawing that is shown, for what is always seen."""

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self._last_stop = ""  # as it was last worked out, and of what
        self._last_of: tuple[str, tuple[LoggedReading, ...]] | None = None
        self.changed.connect(self._hold)

    @property
    def marks(self) -> tuple[ReadMark, ...]:
        """Those of the pump that is shown; none while they are not at hand."""
        answer: Reads | None = self._answer
        return () if answer is None else answer.marks.get(self._document.pump, ())

    @property
    def outlook(self) -> Outlook | None:
        """What the drawing comes to, and before it that a newest reading says stop.

        While the drawing is changed under the readings, what they said last stands, and that it is compared
        again; of readings that were not compared yet, that they were not.
        """
        drawn = self._document.outlook
        if drawn is None or not self._document.layout.readings:
            return drawn
        from solver.field.visits import stopped

        if self.at_hand:
            missing = f"its readings are not compared: {self.trouble}" if self.trouble else ""
            answer: Reads | None = self._answer
            return _with(stopped(drawn, answer.stop if answer is not None else ""), missing)
        if self._last_of == self._subject():
            again = f"{self._last_stop} (compared again now)" if self._last_stop else ""
            return stopped(drawn, again)
        return _with(drawn, "its readings are not compared yet")

    def ask_if_any(self) -> None:
        """Have the readings compared where the drawing holds any."""
        if self._document.layout.readings:
            self.ask()

    def _hold(self) -> None:
        answer: Reads | None = self._answer
        self._last_stop = answer.stop if answer is not None else ""
        self._last_of = self._subject() if answer is not None else None

    def _subject(self) -> tuple[str, tuple[LoggedReading, ...]]:
        """Whose readings they are: another line or other readings have an answer of their own."""
        return self._document.alternative, self._document.layout.readings

    @staticmethod
    def _work(question: Question) -> Any:
        from sketch.model.read_marks import reads

        return reads(replace(question.layout, units=question.system), question.line)


def _with(outlook: Outlook, missing: str) -> Outlook:
    """What a drawing comes to, and what is missing of its readings."""
    return replace(outlook, headline=f"{outlook.headline}; {missing}") if missing else outlook


class Diagnostician(_Worker):
    """What explains the readings of one visit to the pump that is shown."""

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self.day = ""  # of the visit; "" for the latest

    def days(self) -> dict[str, tuple[int, ...]]:
        """The visits to the pump that is shown, the latest first: its readings by day."""
        from solver.field.visits import visits

        document = self._document
        dates = visits(document.layout, document.pump, document.alternative)
        return {document.layout.readings[each[0]].when[:10]: each for each in reversed(dates)}

    def question(self) -> Question:
        days = self.days()
        numbers = days.get(self.day, next(iter(days.values()), ()))
        return super().question()._replace(pump=self._document.pump, numbers=numbers)

    @property
    def diagnosis(self) -> Diagnosis | None:
        """None while it is not at hand, and where there is nothing to explain."""
        answer: Diagnosis | None = self._answer
        return answer

    @staticmethod
    def _work(question: Question) -> Any:
        from solver.field.diagnosis import diagnose

        layout = replace(question.layout, units=question.system)
        return diagnose(layout, question.pump, question.line, question.numbers)


class Forecaster(_Worker):
    """How the strainer of the pump that is shown blocks over the months."""

    def question(self) -> Question:
        return super().question()._replace(pump=self._document.pump)

    @property
    def trends(self) -> tuple[Trend, ...] | None:
        """One for each gauge at each place; None while they are not at hand."""
        answer: tuple[Trend, ...] | None = self._answer
        return answer

    @staticmethod
    def _work(question: Question) -> Any:
        from solver.field.trend import trends

        if question.pump not in question.layout.pumps:
            return ()
        return trends(replace(question.layout, units=question.system), question.pump, question.line)


def inspector(document: Document) -> Inspector:
    """The inspector of a document: one for all its views."""
    return document.findChild(Inspector) or Inspector(document)


def gauger(document: Document) -> Gauger:
    """The gauger of a document: one for all its views."""
    return document.findChild(Gauger) or Gauger(document)


def diagnostician(document: Document) -> Diagnostician:
    """The diagnostician of a document: one for all its views."""
    return document.findChild(Diagnostician) or Diagnostician(document)


def forecaster(document: Document) -> Forecaster:
    """The forecaster of a document: one for all its views."""
    return document.findChild(Forecaster) or Forecaster(document)
