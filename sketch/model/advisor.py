"""What could be changed in the drawing that is shown: worked out on a thread of its own, when a view asks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import Signal

from sketch.model.document import Document
from sketch.model.worker import Worker
from solver.layout.parts import Layout, Level
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import System
from solver.quantities.wording import error_text

if TYPE_CHECKING:
    from solver.fixes.fixes import Advice


class AdviceQuestion(NamedTuple):
    """What the fixes belong to."""

    layout: Layout
    level: Level
    system: System
    drawn: Layout | None  # the drawing itself, of an alternative


class Advisor(Worker[AdviceQuestion]):
    """The fixes of the drawing that is shown, for every view that wants them; which of them is pointed at."""

    previewed = Signal()  # another fix is pointed at, or none

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self.preview: Layout | None = None  # the drawing with the change that is pointed at
        document.changed.connect(self._document_changed)

    def question(self) -> AdviceQuestion | None:
        """What the fixes would belong to now; None where the drawing is not judged."""
        document = self._document
        if document.outcome.judgement is None:
            return None
        drawn = document.drawing.base if document.alternative else None
        return AdviceQuestion(document.layout, document.level, document.system, drawn)

    @staticmethod
    def work(question: AdviceQuestion) -> Mapping[str, Advice]:
        from solver.fixes.fixes import advise_all

        layout = replace(question.layout, units=question.system)
        return advise_all(layout, question.level, question.drawn)

    @staticmethod
    def why(error: Exception, question: AdviceQuestion) -> str:
        if isinstance(error, NetworkError | FluidError):
            return error_text(error, question.system)
        return Worker.why(error, question)

    @property
    def advice_by_pump(self) -> Mapping[str, Advice] | None:
        """The fixes of each pump; None while those of this very drawing are not at hand."""
        advice: Mapping[str, Advice] | None = self.answer
        return advice

    def point(self, layout: Layout | None) -> None:
        """Say which change is pointed at, by the drawing that it makes; None for none."""
        if layout is not self.preview:
            self.preview = layout
            self.previewed.emit()

    def _document_changed(self) -> None:
        self.point(None)


def advisor(document: Document) -> Advisor:
    """The advisor of a document: one for all its views."""
    return document.findChild(Advisor) or Advisor(document)
