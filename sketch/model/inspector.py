"""What the readings of the open drawing come to: worked out on threads of their own, when a view asks."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any, NamedTuple

from sketch.model.document import Document
from sketch.model.worker import Worker
from solver.layout.parts import Layout, Level
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import System
from solver.quantities.wording import error_text

if TYPE_CHECKING:
    from sketch.model.read_marks import NewestReadings, ReadMark
    from solver.field.as_read import AsRead
    from solver.field.compared import Comparison
    from solver.field.diagnosis import Diagnosis
    from solver.field.stopping import Above
    from solver.field.trend import Trend
    from solver.findings.outlook import Outlook
    from solver.layout.logged import LoggedReading


class ReadingsQuestion(NamedTuple):
    """What an answer belongs to."""

    layout: Layout
    line: str  # the alternative that it is; "" for the drawing itself
    system: System
    pump: str = ""
    numbers: tuple[int, ...] = ()  # readings that are explained together, by their places in the file
    level: Level = Level.MINIMUM  # of the reservoirs, where a case names none
    base: Layout | None = None  # that an alternative is laid over


class _FieldWorker(Worker[ReadingsQuestion]):
    """Works out what readings come to."""

    def question(self) -> ReadingsQuestion:
        """What an answer would belong to now."""
        document = self._document
        return ReadingsQuestion(document.layout, document.alternative, document.system)

    @staticmethod
    def why(error: Exception, question: ReadingsQuestion) -> str:
        from solver.field.diagnosis import NothingToExplainError

        if isinstance(error, NetworkError | FluidError | NothingToExplainError):
            return error_text(error, question.system)
        return Worker.why(error, question)


class Inspector(_FieldWorker):
    """Every reading of the drawing that is shown beside what the drawing expects."""

    @property
    def comparisons(self) -> tuple[Comparison, ...] | None:
        """One for each reading, in the order of the file; None while they are not at hand."""
        answer: tuple[Comparison, ...] | None = self.answer
        return answer

    @staticmethod
    def work(question: ReadingsQuestion) -> Any:
        from solver.field.compared import compare

        return compare(replace(question.layout, units=question.system), question.line)


class Gauger(_FieldWorker):
    """The newest reading at each place of the drawing that is shown, for what is always seen."""

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self._last_stop: Above | None = None  # as they were last worked out, and of what
        self._last_read: AsRead | None = None
        self._last_of: tuple[str, tuple[LoggedReading, ...]] | None = None
        self.changed.connect(self._hold)

    @property
    def marks(self) -> tuple[ReadMark, ...]:
        """Those of the pump that is shown; none while they are not at hand."""
        answer: NewestReadings | None = self.answer
        return () if answer is None else answer.marks.get(self._document.pump, ())

    @property
    def as_read(self) -> AsRead | None:
        """The drawing with its screens as read, as it last was while that is worked out again."""
        if self.at_hand:
            answer: NewestReadings | None = self.answer
            return None if answer is None else answer.as_read
        return self._last_read if self._last_of == self._subject() else None

    @property
    def outlook(self) -> Outlook | None:
        """What the drawing comes to with its readings; beneath it the pump that is shown, where it is of
        another."""
        document, first = self._document, self._with_readings
        if first is None or len(document.layout.pumps) < 2:
            return first
        own = document.outcome.beside_headline(document.pump, document.system)
        if not own:
            return first
        return replace(first, beneath=". ".join(filter(None, (own, first.beneath))))

    @property
    def _with_readings(self) -> Outlook | None:
        """What the drawing comes to, before it how it stands as read, and before both that a newest reading
        says stop.

        While the drawing is changed under the readings, what they said last stands, and that it is compared
        again; of readings that were not compared yet, that they were not.
        """
        drawn = self._document.outlook
        if drawn is None or not self._document.layout.readings:
            return drawn
        from solver.field.as_read import as_read_first, read_again
        from solver.field.stopping import stopped

        system, answer = self._document.system, self.answer
        if self.at_hand and answer is not None:
            return as_read_first(stopped(drawn, answer.stop), answer.as_read, system)
        if self.at_hand:
            return _with(drawn, f"its readings are not compared: {self.trouble}")
        if self._last_of == self._subject():
            again = stopped(drawn, self._last_stop, " (compared again now)")
            return read_again(again, self._last_read, system)
        return _with(drawn, "its readings are not compared yet")

    def ask_if_any(self) -> None:
        """Have the readings compared where the drawing holds any."""
        if self._document.layout.readings:
            self.ask()

    def _hold(self) -> None:
        answer: NewestReadings | None = self.answer
        self._last_stop = answer.stop if answer is not None else None
        self._last_read = answer.as_read if answer is not None else None
        self._last_of = self._subject() if answer is not None else None

    def _subject(self) -> tuple[str, tuple[LoggedReading, ...]]:
        """Whose readings they are: another line or other readings have an answer of their own."""
        return self._document.alternative, self._document.layout.readings

    def question(self) -> ReadingsQuestion:
        document = self._document
        return super().question()._replace(level=document.level, base=document.drawing.base)

    @staticmethod
    def work(question: ReadingsQuestion) -> Any:
        from sketch.model.read_marks import newest_readings

        layout = replace(question.layout, units=question.system)
        return newest_readings(layout, question.line, question.level, question.base)


def _with(outlook: Outlook, missing: str) -> Outlook:
    """What a drawing comes to, and what is missing of its readings."""
    return replace(outlook, headline=f"{outlook.headline}; {missing}")


class Diagnostician(_FieldWorker):
    """What explains the readings of one visit to the pump that is shown."""

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self.visit = ""  # by its name; "" for the latest

    def visits(self) -> dict[str, tuple[int, ...]]:
        """The visits to the pump that is shown, the latest first: its readings by the name of the visit."""
        from solver.field.visits import visit_names, visits

        document = self._document
        of = (document.layout, document.pump, document.alternative)
        named = zip(visit_names(*of), visits(*of), strict=True)
        return dict(reversed(list(named)))

    def question(self) -> ReadingsQuestion:
        every = self.visits()
        numbers = every.get(self.visit, next(iter(every.values()), ()))
        return super().question()._replace(pump=self._document.pump, numbers=numbers)

    @property
    def diagnosis(self) -> Diagnosis | None:
        """None while it is not at hand, and where there is nothing to explain."""
        answer: Diagnosis | None = self.answer
        return answer

    @staticmethod
    def work(question: ReadingsQuestion) -> Any:
        from solver.field.diagnosis import diagnose

        layout = replace(question.layout, units=question.system)
        return diagnose(layout, question.pump, question.line, question.numbers)


class Forecaster(_FieldWorker):
    """How the strainer of the pump that is shown blocks over the months."""

    def question(self) -> ReadingsQuestion:
        return super().question()._replace(pump=self._document.pump)

    @property
    def trends(self) -> tuple[Trend, ...] | None:
        """One for each gauge at each place; None while they are not at hand."""
        answer: tuple[Trend, ...] | None = self.answer
        return answer

    @staticmethod
    def work(question: ReadingsQuestion) -> Any:
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
