"""What each alternative changes, and what every change is worth in margin."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from sketch.page.blocks import Block, Heading, Paragraph
from sketch.page.table import Row, Table
from solver.findings.criteria import Finding
from solver.findings.judgement import Judgement, alone
from solver.findings.kinds import Severity
from solver.findings.outlook import outlook
from solver.ledger.path import HeadKind
from solver.ledger.solve import PumpLedger, Solution
from solver.quantities import units
from solver.quantities.units import Kind, System

AS_DRAWN = "As drawn"

LEAST = 0.005
MOST = 6
"""Of the budget; parts that change the margin by less, and those after so many, are told together."""

ROUNDED = "Figures are rounded one by one; sums may differ in the last digit."

MARGIN, WORST_CASE = "Margin", "Margin, worst case"


@dataclass(frozen=True, slots=True)
class Option:
    """An alternative, calculated or refused; the drawing itself is one of no name."""

    name: str
    note: str
    solution: Solution | None
    findings: tuple[Finding, ...] = ()
    why: str = ""  # it is not calculated
    judgement: Judgement | None = None  # by all its cases; None: by this solution alone

    @property
    def title(self) -> str:
        """The name it is shown under."""
        return self.name or AS_DRAWN

    @property
    def judged(self) -> Judgement | None:
        """The judgement by all its cases; None where it is not calculated."""
        if self.judgement is not None or self.solution is None:
            return self.judgement
        return alone(self.solution, self.findings)

    def ledger(self, pump: str) -> PumpLedger | None:
        """The ledger of a pump; None where there is none."""
        return self.solution.pumps.get(pump) if self.solution is not None else None


@dataclass(frozen=True, slots=True)
class Change:
    """One cause: what it was, what it is, what that adds to the margin [Pa]; None where it is not there."""

    cause: str
    before: float | None
    after: float | None
    gain: float | None


def changes(before: PumpLedger, after: PumpLedger, most: int = MOST) -> tuple[Change, ...]:
    """From one margin to another, cause by cause: the budget, the lift, then the loss of every part.

    The gains add up to the difference of the margins. Of the parts the largest gains and costs come first;
    what is worth next to nothing, and what comes after `most` parts, is one line at the end.
    """
    lift = [sum(entry.lift for entry in each.entries) for each in (before, after)]
    losses = _losses(before), _losses(after)
    parts = []
    for part in dict.fromkeys((*losses[0], *losses[1])):
        was, now = losses[0].get(part), losses[1].get(part)
        parts.append(Change(part, was, now, (was or 0.0) - (now or 0.0)))
    parts.sort(key=lambda change: -abs(change.gain or 0.0))
    return (
        Change("Inlet budget", before.budget, after.budget, after.budget - before.budget),
        Change("Lift", lift[0], lift[1], lift[0] - lift[1]),
        *_together(parts, LEAST * max(abs(before.budget), abs(after.budget)), most),
    )


def _together(parts: Sequence[Change], least: float, most: int) -> tuple[Change, ...]:
    largest = [change for change in parts[:most] if abs(change.gain or 0.0) >= least]
    rest = parts[len(largest) :]
    if len(rest) < 2:
        return tuple(parts)
    before, after, gain = (
        sum(getattr(change, name) or 0.0 for change in rest) for name in ("before", "after", "gain")
    )
    return (*largest, Change(f"{len(rest)} other parts", before, after, gain))


def _losses(ledger: PumpLedger) -> Mapping[str, float]:
    """What is lost in each part; in the pump's own, at its port."""
    losses: dict[str, float] = {}
    for entry in ledger.entries:
        name = f"{entry.part}, port" if entry.part == ledger.pump else entry.part
        if entry.kind != HeadKind.FLOODED:
            losses[name] = losses.get(name, 0.0) + entry.loss
    return losses


def summary_blocks(options: Sequence[Option], pump: str, system: System) -> Iterator[Block]:
    """Every alternative in a row, the first for the others to be measured by."""
    if len(options) < 2:
        return
    yield Heading("Alternatives side by side")
    unit = units.unit(Kind.VACUUM, system)
    headings = ("Panel", "Verdict", f"Vacuum\n{unit}", f"Allowed\n{unit}", f"Budget\n{unit}",
                f"Margin\n{unit}", f"Gain\n{unit}", "Findings")  # fmt: skip
    base = options[0].ledger(pump)
    rows = tuple(_summary_row(option, base, pump, system) for option in options)
    yield Table(headings, rows, frozenset((0, 1, 7)))
    yield Paragraph(ROUNDED, quiet=True)
    for option in options:
        if option.ledger(pump) is None:
            yield Paragraph(_why(option, pump), f"{option.title} is not calculated:")


def _why(option: Option, pump: str) -> str:
    return option.why or f"there is no {pump} in it."


def _summary_row(option: Option, base: PumpLedger | None, pump: str, system: System) -> Row:
    ledger = option.ledger(pump)
    if ledger is None:
        return Row((option.title, "Not calculated", *[""] * 6), quiet=True)
    gain = ledger.margin - base.margin if base is not None and option.name else None
    figures = (ledger.vacuum, ledger.allowed_vacuum, ledger.budget, ledger.margin, gain)
    shown = [figure(value, system) for value in figures]
    headline = _headline(option, system)
    return Row((option.title, headline, *shown, counted(option.findings)))


def _headline(option: Option, system: System) -> str:
    return "" if option.judged is None else outlook(option.judged, system).headline


def counted(findings: Sequence[Finding]) -> str:
    """How many findings there are of each severity, the worst first."""
    numbers = Counter(finding.severity for finding in findings)
    counts = [f"{numbers[each]} {each}{'s'[: numbers[each] > 1]}" for each in Severity if numbers[each]]
    return ", ".join(counts) or "none"


def change_blocks(options: Sequence[Option], pump: str, system: System) -> Iterator[Block]:
    """What each alternative bought, cause by cause."""
    base = options[0].ledger(pump) if options else None
    if base is None:
        return
    for option in options[1:]:
        ledger = option.ledger(pump)
        if ledger is not None:
            yield Heading(f"What {option.title} buys")
            if option.note:
                yield Paragraph(" ".join(option.note.split()), keep=True)
            yield change_table(options[0], option, pump, system)
            yield Paragraph(ROUNDED, quiet=True)


def change_table(base: Option, option: Option, pump: str, system: System, most: int = MOST) -> Table:
    """The causes, `most` parts by name, and the two margins they lead from and to.

    Raises KeyError where one of the two has no such pump.
    """
    before, after = base.ledger(pump), option.ledger(pump)
    if before is None or after is None:
        raise KeyError(pump)
    unit = units.unit(Kind.VACUUM, system)
    headings = ("Cause", f"{base.title}\n{unit}", f"{option.title}\n{unit}", f"Gain\n{unit}", "")
    gained = after.margin - before.margin
    changed = (*changes(before, after, most), Change(MARGIN, before.margin, after.margin, gained))
    rows = [
        Row((each.cause, *(figure(value, system) for value in (each.before, each.after, each.gain)), ""),
            bar=each.gain or 0.0, bold=each.cause in (MARGIN, WORST_CASE), rule=each.cause == MARGIN)
        for each in (*changed, *_least_margin(base, option, pump))
    ]  # fmt: skip
    return Table(headings, tuple(rows), frozenset((0, 4)), bar=4)


def _least_margin(base: Option, option: Option, pump: str) -> Iterator[Change]:
    """The least margins in any case, where either drawing has several."""
    both = [each.judged for each in (base, option)]
    places = [None if judged is None else judged.worst(pump) for judged in both]
    before, after = (None if place is None else place.ledger.margin for place in places)
    if any(judged is not None and len(judged.cases) > 1 for judged in both):
        gain = None if before is None or after is None else after - before
        yield Change(WORST_CASE, before, after, gain)


def figure(value: float | None, system: System) -> str:
    """A pressure in the unit that vacuum is shown in; "" for none."""
    return "" if value is None else units.fixed(value, Kind.VACUUM, system)
