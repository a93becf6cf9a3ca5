"""The curves of the open drawing, and how sure their margin is: worked out on threads of their own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from sketch.model.document import Document
from sketch.model.worker import Worker
from solver.answers.curves import (
    Curves,
    CurveSubject,
    UncertainMargin,
    curves,
    subjects,
    transitional,
    uncertain_margin,
)
from solver.answers.inputs import Ends
from solver.answers.sweep import SweepError
from solver.layout.parts import Layout, Level
from solver.ledger.solve import PumpLedger
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import System
from solver.quantities.wording import capitalised, error_text
from solver.report.uncertainty import every_case, lines, sentence


@dataclass(frozen=True, slots=True)
class CurvesQuestion:
    """What the curves on the screen belong to."""

    layout: Layout
    in_view: Layout  # in the case that is shown
    pump: str
    level: Level
    system: System
    over: str  # name of what is varied, where the drawing has it
    others: tuple[tuple[str, Layout], ...]  # alternatives that are drawn too
    ledger: PumpLedger = field(compare=False)  # of the pump in that case


class SolvedCurves(NamedTuple):
    """Everything that is drawn but for the draws of what is not known."""

    offered: tuple[CurveSubject, ...]  # what can be varied
    curves: Curves
    others: Mapping[str, Curves]
    between: tuple[Ends, ...]  # where flow is neither laminar nor turbulent [SI]


class CurvesWorker(Worker[CurvesQuestion]):
    """The curves over what was chosen. Switched off, as while nobody sees them, it asks nothing."""

    IDLE_MS = 150

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self.on = False
        self.over = "port height"
        self.with_alternatives = False

    def question(self) -> CurvesQuestion | None:
        """What curves would belong to now; None while it is off, and where the pump has no ledger."""
        document = self._document
        solution, ledger = document.solution, document.ledger
        if not self.on or solution is None or ledger is None:
            return None
        others = tuple(self._others()) if self.with_alternatives else ()
        return CurvesQuestion(
            document.layout,
            solution.layout,
            document.pump,
            document.level,
            document.system,
            self.over,
            others,
            ledger,
        )

    def _others(self) -> list[tuple[str, Layout]]:
        document = self._document
        drawn = [
            ("", document.drawing.base),
            *((name, each.layout) for name, each in document.drawing.alternatives.items()),
        ]
        return [
            (name or "base drawing", layout)
            for name, layout in drawn
            if name != document.alternative and document.pump in layout.pumps
        ]

    @staticmethod
    def work(question: CurvesQuestion) -> SolvedCurves:
        offered = subjects(question.layout, question.ledger, question.level)
        subject = next((each for each in offered if each.name == question.over), offered[0])
        solved = curves(question.layout, question.pump, subject, question.level)
        return SolvedCurves(
            offered,
            solved,
            _of_alternatives(question, solved.subject),
            transitional(question.in_view, question.pump, solved.subject, question.level),
        )

    @staticmethod
    def why(error: Exception, question: CurvesQuestion) -> str:
        if isinstance(error, SweepError | NetworkError | FluidError):
            return error_text(error, question.system)
        return Worker.why(error, question)


def _of_alternatives(asked: CurvesQuestion, subject: CurveSubject) -> dict[str, Curves]:
    """The curves of every other alternative that has the figure."""
    others = {}
    for name, layout in asked.others:
        try:
            others[name] = curves(layout, asked.pump, subject, asked.level)
        except (SweepError, NetworkError):
            continue  # it has no such figure
    return others


@dataclass(frozen=True, slots=True)
class DrawsQuestion:
    """Curves of which it is asked how sure their margin is."""

    of: CurvesQuestion
    curves: Curves = field(compare=False)


class Draws(NamedTuple):
    """What the draws of what is not known come to."""

    margin: UncertainMargin
    sentence: str
    lines: tuple[str, ...]


class DrawsWorker(Worker[DrawsQuestion]):
    """How sure the margin of curves is, once these are there. Off until it is asked for."""

    def __init__(self, document: Document, of: CurvesWorker) -> None:
        super().__init__(document)
        self.on = False
        self._of = of

    def question(self) -> DrawsQuestion | None:
        """What draws would belong to now; None while it is off, and where the curves are not at hand."""
        answered = self._of.answered
        if not self.on or answered is None or answered.answer is None or not self._of.at_hand:
            return None
        return DrawsQuestion(answered.question, answered.answer.curves)

    @staticmethod
    def work(question: DrawsQuestion) -> Draws:
        asked = question.of
        margin = uncertain_margin(asked.layout, question.curves, asked.level)
        drawn = every_case(asked.layout, asked.pump, asked.level)
        text = f"{capitalised(sentence(drawn))}; the band holds 90 of 100."
        return Draws(margin, text, tuple(lines(drawn, asked.system)))

    @staticmethod
    def why(error: Exception, question: DrawsQuestion) -> str:
        return CurvesWorker.why(error, question.of)
