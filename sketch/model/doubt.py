"""How sure the margin that is shown is: worked out on a thread of its own, once that is switched on."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from sketch.model.document import Document
from sketch.model.worker import Worker
from solver.layout.parts import Layout, Level
from solver.quantities import units
from solver.quantities.adding import PLACES
from solver.quantities.units import Kind, System, with_minus

if TYPE_CHECKING:
    from solver.answers.uncertainty import PressureBands

ENDS = (0.05, 0.95)
"""Shares of the draws that lie under the ends of the band."""


class MarginBand(NamedTuple):
    """Between which margins nine in ten draws lie."""

    low: float  # [Pa]
    high: float

    def in_words(self, system: System) -> str:
        """The band with its figures; below zero is over."""
        return f"90 of 100 trials: margin {self.in_short(system)}"

    def in_short(self, system: System) -> str:
        """Its figures alone."""
        low, high = (with_minus(units.number(each, Kind.VACUUM, system, PLACES)) for each in self)
        return f"{low} to {high} {units.unit(Kind.VACUUM, system)}"


class DoubtQuestion(NamedTuple):
    """What a band belongs to."""

    layout: Layout  # in the case that is shown
    level: Level
    pump: str


class DoubtBands(NamedTuple):
    """What the draws come to."""

    margin: MarginBand
    pressures: PressureBands | None  # along the line


NO_DRAW = "no trial could be solved"


class Doubt(Worker[DoubtQuestion]):
    """The band of one document's margin, for every view that paints it. Off until it is asked for."""

    IDLE_MS = 220

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self.on = False
        document.changed.connect(self._ask_if_on)

    def toggle(self) -> None:
        """Switch it on or off."""
        self.on = not self.on
        self._ask_if_on()
        self.changed.emit()

    @property
    def band(self) -> MarginBand | None:
        """That of the margin in the very drawing and case that are shown; None while it is not at hand."""
        drawn: DoubtBands | None = self.answer
        return drawn.margin if drawn is not None else None

    @property
    def pressures(self) -> PressureBands | None:
        """Those along the line of that drawing in that case; None while they are not at hand."""
        drawn: DoubtBands | None = self.answer
        return drawn.pressures if drawn is not None else None

    def question(self) -> DoubtQuestion | None:
        """What a band would belong to now; None where nothing is asked or nothing solved."""
        document = self._document
        solution = document.solution
        if not self.on or solution is None or document.pump not in solution.pumps:
            return None
        return DoubtQuestion(solution.layout, solution.level, document.pump)

    @staticmethod
    def work(question: DoubtQuestion) -> DoubtBands:
        from solver.answers.uncertainty import pressure_bands, uncertainty

        layout, level, pump = question
        ends = uncertainty(layout, pump, level).quantiles(*ENDS)
        if ends is None:
            raise ValueError(NO_DRAW)
        return DoubtBands(MarginBand(*ends), pressure_bands(layout, pump, level, ENDS))

    @staticmethod
    def why(error: Exception, question: DoubtQuestion) -> str:
        return str(error) if isinstance(error, ValueError) else Worker.why(error, question)

    def _ask_if_on(self) -> None:
        if self.on:
            self.ask()


def doubt(document: Document) -> Doubt:
    """The doubt of a document: one for all its views."""
    return document.findChild(Doubt) or Doubt(document)
