"""Every case by pump and by alternative, as rows of cells; the worst case first. No widgets."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sketch.look.marks import NOT_JUDGED
from sketch.model.document import BASE, Document
from sketch.model.outcome import Outcome
from sketch.views.comparison import DRAWING_ITSELF
from solver.findings.judgement import Judgement, PumpInCase, PumpState
from solver.findings.kinds import Grade
from solver.findings.outlook import unfit_reason
from solver.layout.cases import AS_DRAWN
from solver.ledger.sentences import clause
from solver.quantities import units
from solver.quantities.units import Kind, System

AT_REST = "at rest"
NOT_FIT = "not fit to run"
NO_SUCH_CASE = "–"


@dataclass(frozen=True, slots=True)
class CaseColumn:
    """What the cells of a column are of: a pump of the drawing that is shown, or an alternative's worst."""

    title: str
    alternative: str  # `BASE` for the drawing itself
    pump: str  # "" for the worst pump


@dataclass(frozen=True, slots=True)
class CaseCell:
    """How a pump stands in a case."""

    text: str  # its margin in the units shown, or why there is none
    why: str  # in a sentence
    pump: str  # whose ledger a click shows
    pump_state: PumpState | None  # None where nothing was judged
    exists: bool = True  # whether there is such a case at all


@dataclass(frozen=True, slots=True)
class CaseRow:
    """One case."""

    case: str
    note: str
    cells: tuple[CaseCell, ...]


def columns(document: Document) -> tuple[CaseColumn, ...]:
    """The pumps of the drawing that is shown, then the drawing itself and its alternatives, if any."""
    pumps = tuple(CaseColumn(pump, document.alternative, pump) for pump in document.layout.pumps)
    if not document.alternatives:
        return pumps
    worst = tuple(CaseColumn(name or DRAWING_ITSELF, name, "") for name in (BASE, *document.alternatives))
    return worst if len(pumps) == 1 else pumps + worst


def rows(document: Document, shown: Sequence[CaseColumn]) -> tuple[CaseRow, ...]:
    """All cases of the drawing and its alternatives, the worst of the drawing that is shown first."""
    outcomes = {each.alternative: document.outcome_of(each.alternative) for each in shown}
    names = dict.fromkeys(
        case for outcome in (document.outcome, *outcomes.values()) for case in _cases(outcome)
    )
    table = [
        CaseRow(
            name,
            _note(document, name),
            tuple(_cell(outcomes[each.alternative], each.pump, name, document.system) for each in shown),
        )
        for name in names
    ]
    return tuple(sorted(table, key=lambda row: order(document.outcome.judgement, row.case)))


def order(judgement: Judgement | None, case: str) -> tuple[int, float]:
    """Sorts cases the worst first; one that was not judged stands behind those that are over."""
    if judgement is None or case not in judgement.cases:
        return len(PumpState), math.inf
    place = judgement.worst(cases=[case])
    return place.order if place is not None else (PumpState.UNFIT.rank, math.inf)


def _cases(outcome: Outcome) -> tuple[str, ...]:
    return tuple(outcome.judgement.cases) if outcome.judgement is not None else (AS_DRAWN,)


def _note(document: Document, case: str) -> str:
    judgement = document.outcome.judgement
    return judgement.cases[case].note if judgement is not None and case in judgement.cases else ""


def _cell(outcome: Outcome, pump: str, case: str, system: System) -> CaseCell:
    judgement = outcome.judgement
    if judgement is None:
        part, text = next(iter(outcome.refusal), ("", "nothing to calculate"))
        return CaseCell(NOT_JUDGED, f"{part}: {text}" if part else text, pump, None)
    if case not in judgement.cases:
        return CaseCell(NO_SUCH_CASE, "There is no such case in it", pump, None, exists=False)
    place = judgement.worst(pump or None, [case])
    if place is not None:
        return _judged(judgement, place, pump, system)
    solved = judgement.cases[case]
    if pump and solved.solution is not None and pump in solved.solution.resting:
        return CaseCell(AT_REST, f"{pump} is at rest in this case", pump, None)
    return CaseCell(NOT_JUDGED, solved.why(system), pump, None)


def _judged(judgement: Judgement, place: PumpInCase, pump: str, system: System) -> CaseCell:
    whose = "" if pump else f"{place.pump}: "
    text = units.fixed(place.ledger.margin, Kind.VACUUM, system)
    if place.pump_state is PumpState.BREAKS:
        text = "breaks"
    elif place.pump_state is PumpState.UNFIT:
        text = f"{NOT_FIT}, {text}"  # the colour is that of a stop: the figure alone would not say why
    unfit = unfit_reason(judgement, place)
    why = f"{place.pump_state}: {unfit}" if unfit else str(place.pump_state)
    return CaseCell(text, f"{whose}{why}; {clause(place.ledger, system)}", place.pump, place.pump_state)


_GRADES: Mapping[PumpState, Grade] = {
    PumpState.BREAKS: Grade.STOP,
    PumpState.OVER: Grade.STOP,
    PumpState.UNFIT: Grade.STOP,
    PumpState.THIN: Grade.CAUTION,
    PumpState.WITHIN: Grade.GOOD,
}


def mark_of(pump_state: PumpState | None) -> str:
    """The mark of a case in which a pump stands so; that of what is not judged for None."""
    return _GRADES[pump_state] if pump_state is not None else NOT_JUDGED


def pump_state_of(judgement: Judgement | None, case: str) -> PumpState | None:
    """How the worst of all pumps stands in a case; None where it was not judged."""
    place = judgement.worst(cases=[case]) if judgement is not None else None
    return place.pump_state if place is not None else None


def word_of(pump_state: PumpState | None) -> str:
    """What a mark means."""
    return str(pump_state) if pump_state is not None else NOT_JUDGED
