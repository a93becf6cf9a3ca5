"""The drawing and its alternatives side by side, as rows of figures. No widgets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from sketch.air_column.side_by_side import ComparedColumn
from sketch.model.document import BASE, Document
from sketch.model.outcome import Outcome
from solver.findings.judgement import Judgement, PumpInCase
from solver.findings.kinds import Grade, Severity
from solver.layout.cases import AS_DRAWN
from solver.layout.differences import differences
from solver.layout.drawing import BrokenAlternative
from solver.layout.positions import dotted
from solver.ledger.rounding import RoundedLedger, in_writing
from solver.ledger.sentences import brief
from solver.quantities import units
from solver.quantities.adding import PLACES, gained
from solver.quantities.units import Kind, System

DRAWING_ITSELF = "The drawing itself"
PLURAL = {Severity.STOP: "stops", Severity.CAUTION: "cautions", Severity.NOTE: "notes"}


@dataclass(frozen=True, slots=True)
class ComparedAlternative:
    """One alternative where the worst of its pumps stands worst. Pressures [Pa]; None where not judged."""

    name: str  # `BASE` for the drawing itself
    case: str  # whose figures these are; "" where there are none
    lift: float | None
    loss: float | None
    margin: float | None
    change: float | None  # of the margin of one pump, against the drawing itself
    headline: str  # or why there is none
    findings: str
    within: bool | None  # None where nothing is calculated
    worst: Severity | None = None  # of the findings; None without any
    differs: str = ""  # from the drawing itself, in the words of the parts
    note: str = ""
    holds: bool = True  # on the drawing as it is; one that does not cannot be shown
    shown: tuple[str, str] = ("", "")  # lift and loss, as the ledger shows them
    pump: str = ""  # whose figures these are, where the drawing or an alternative has several
    change_of: str = ""  # the pump whose margin changes so, where that is another

    @property
    def mark(self) -> Grade:
        """The mark it is listed with: a tick only where neither the limit nor a finding stands against it."""
        if self.within is False or self.worst == Severity.STOP:
            return Grade.STOP
        return Grade.CAUTION if self.within is None or self.worst == Severity.CAUTION else Grade.GOOD

    @property
    def short_headline(self) -> str:
        """The headline beside the name of its case."""
        return self.headline.replace(f' in "{self.case}"', "", 1)

    @property
    def place(self) -> str:
        """Whose figures it has, and of which case."""
        return ", ".join(filter(None, (self.pump, self.case)))

    @property
    def title(self) -> str:
        """The name it is shown under."""
        return self.name or DRAWING_ITSELF


def rows(document: Document) -> tuple[ComparedAlternative, ...]:
    """The drawing itself, its alternatives in the order of the file, and last those that do not hold."""
    names, system, named = (BASE, *document.alternatives), document.system, names_pumps(document)
    base = document.outcome_of(BASE).judgement
    compared = (_row(name, document.outcome_of(name), base, system, named=named) for name in names)
    broken = (_broken(name, each) for name, each in document.drawing.broken.items())
    return (*(_described(row, document) for row in compared), *broken)


def names_pumps(document: Document) -> bool:
    """Whether figures say whose they are, as the drawing or an alternative has several pumps."""
    drawing = document.drawing
    layouts = (drawing.base, *(each.layout for each in drawing.alternatives.values()))
    return any(len(layout.pumps) > 1 for layout in layouts)


def columns(document: Document) -> Iterator[ComparedColumn]:
    """The air column of the drawing and of each alternative that has one, in the case that decides."""
    system, several = document.system, names_pumps(document)
    for name in (BASE, *document.alternatives):
        judgement = document.outcome_of(name).judgement
        place = judgement.worst() if judgement is not None else None
        if judgement is not None and place is not None:
            named = "the case as drawn" if place.case == AS_DRAWN else f'"{place.case}"'
            where = f" in {named}" if len(judgement.cases) > 1 else ""
            pump = f"{place.pump}: " if several else ""
            yield ComparedColumn(
                name, name or DRAWING_ITSELF, f"{pump}{brief(place.ledger, system)}{where}", place.ledger
            )


def _broken(name: str, alternative: BrokenAlternative) -> ComparedAlternative:
    """The row of an alternative that does not hold, with the first reason."""
    trouble, note = alternative.troubles[0], alternative.table.get("note", "")
    path = dotted(trouble.path[2:])
    why = f"Not valid: {path + ': ' if path else ''}{trouble.found}; allowed: {trouble.allowed}"
    return ComparedAlternative(
        name,
        "",
        None,
        None,
        None,
        None,
        why,
        "",
        None,
        note=note if isinstance(note, str) else "",
        holds=False,
    )


def _described(row: ComparedAlternative, document: Document) -> ComparedAlternative:
    if row.name == BASE:
        return row
    drawing = document.drawing
    alternative = drawing.alternatives[row.name]
    changes = differences(drawing.base, alternative.layout, document.system)
    return replace(row, differs="; ".join(changes) or "nothing that matters", note=alternative.note)


def _worst(outcome: Outcome) -> PumpInCase | None:
    """The pump and the case that stand worst: a change that helps one of them alone is no help."""
    return outcome.judgement.worst() if outcome.judgement else None


def _row(
    name: str, outcome: Outcome, base: Judgement | None, system: System, *, named: bool
) -> ComparedAlternative:
    place = _worst(outcome)
    outlook = outcome.outlook(place.pump, system) if place is not None else None
    if place is None or outlook is None:
        part, text = next(iter(outcome.refusal), ("", "no pump runs in it"))
        why = f"Not calculated: {part} {text}" if part else f"Not calculated: {text}"
        return ComparedAlternative(name, "", None, None, None, None, why, "", None)
    ledger = place.ledger
    figures = RoundedLedger(ledger, system)
    change, of = _bought(base, outcome.judgement, system) if name != BASE else (None, "")
    return ComparedAlternative(
        name,
        place.case,
        sum(entry.lift for entry in ledger.entries),
        sum(entry.loss for entry in ledger.entries),
        ledger.margin,
        change,
        outlook.headline,
        _count(outcome),
        ledger.sound,
        next((each for each in Severity if any(f.severity == each for f in outcome.findings)), None),
        shown=(in_writing(figures.lift), in_writing(figures.loss)),
        pump=place.pump if named else "",
        change_of=of if of != place.pump else "",
    )


def _bought(base: Judgement | None, judgement: Judgement | None, system: System) -> tuple[float | None, str]:
    """By how much the pump that stands worst in the drawing stands better, as both margins are shown [Pa],
    and which that is: margins of two pumps are not set against one another.

    None where the alternative has no such pump.
    """
    drawn = base.worst(cases=judgement.cases) if base is not None and judgement is not None else None
    if drawn is None or judgement is None:
        return None, ""
    after = judgement.worst(drawn.pump)
    if after is None:
        return None, drawn.pump
    return gained(drawn.ledger.margin, after.ledger.margin, Kind.VACUUM, system), drawn.pump


def _count(outcome: Outcome) -> str:
    """How many findings of each severity, worst first."""
    counted = Counter(finding.severity for finding in outcome.findings)
    counts = [
        f"{counted[severity]} {severity if counted[severity] == 1 else PLURAL[severity]}"
        for severity in Severity
        if counted[severity]
    ]
    return ", ".join(counts) or "none"


def against_drawing(own: Mapping[str, float], drawn: Mapping[str, float], case: str, system: System) -> str:
    """Margins of an alternative by case against those of the drawing itself [Pa], in words.

    The worst of all cases comes first wherever that in view, `case`, says otherwise: what is worse in its
    worst case never reads as better. "" where they have no case in common.
    """
    common = own.keys() & drawn.keys()
    if not common:
        return ""
    worst = gained(min(drawn[name] for name in common), min(own.values()), Kind.VACUUM, system)
    shown = gained(drawn[case], own[case], Kind.VACUUM, system) if case in common else None
    lost = len(drawn.keys() - own.keys())
    missing = f" {lost} {'case' if lost == 1 else 'cases'} not judged." if lost else ""
    if shown is None or len(own) == 1 or _gain(shown, system) == _gain(worst, system):
        return margin_against(worst, system) + missing
    in_view = _gain(shown, system) or "the same"
    gain = _gain(worst, system)
    least = f"Worst case {gain} than drawn" if gain else "Worst case as drawn"
    return f"{least}; in view {in_view}.{missing}"


def margin_against(change: float | None, system: System) -> str:
    """What a margin gained on that of the drawing itself, in words; "" where they cannot be compared."""
    if change is None:
        return ""
    gain = _gain(change, system)
    return f"Margin {gain} than the drawing." if gain else "Same margin as drawn."


def _gain(change: float, system: System) -> str:
    """How much better or worse a margin is [Pa]; "" where none of it is seen."""
    figure = units.show(abs(change), Kind.VACUUM, system, PLACES)
    if not any(digit in figure for digit in "123456789"):
        return ""
    return f"{figure} {'better' if change > 0 else 'worse'}"
