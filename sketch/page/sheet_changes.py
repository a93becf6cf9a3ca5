"""What every change between two ledgers of a pump is worth in margin."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sketch.page.table import Row, Table
from solver.findings.criteria import Finding
from solver.findings.kinds import Severity
from solver.ledger.path import HeadEntryKind
from solver.ledger.solve import PumpLedger
from solver.quantities import units
from solver.quantities.units import Kind, System

LEAST = 0.005
MOST, NEW = 6, 3
"""Of the budget; parts that change the margin by less, and those after so many, are told together; but for so
many of those that are new."""

ROUNDED = "Figures are rounded one by one; sums may differ in the last digit."

MARGIN, WORST_CASE = "Margin", "Worst case"


@dataclass(frozen=True, slots=True)
class MarginChange:
    """One cause: what it was, what it is, what that adds to the margin [Pa]; None where it is not there."""

    cause: str
    before: float | None
    after: float | None
    gain: float


def margin_changes(
    before: PumpLedger, after: PumpLedger, most: int = MOST, new: int = NEW
) -> tuple[MarginChange, ...]:
    """From one margin to another, cause by cause: the budget, the lift, then the loss of every part.

    The gains add up to the difference of the margins. Of the parts the largest gains and costs come first;
    what is worth next to nothing, and what comes after `most` parts, is one line at the end. So many of
    what is `new` are named besides: it is what the alternative costs.
    """
    lift = [sum(entry.lift for entry in each.entries) for each in (before, after)]
    losses = _losses(before), _losses(after)
    parts = []
    for part in dict.fromkeys((*losses[0], *losses[1])):
        was, now = losses[0].get(part), losses[1].get(part)
        parts.append(MarginChange(part, was, now, (was or 0.0) - (now or 0.0)))
    parts.sort(key=lambda change: -abs(change.gain))
    return (
        MarginChange("Inlet budget", before.budget, after.budget, after.budget - before.budget),
        MarginChange("Lift", lift[0], lift[1], lift[0] - lift[1]),
        *_together(parts, LEAST * max(abs(before.budget), abs(after.budget)), most, new),
    )


def _together(parts: Sequence[MarginChange], least: float, most: int, new: int) -> tuple[MarginChange, ...]:
    added = [change for change in parts[most:] if change.before is None][:new]
    named = [change for change in (*parts[:most], *added) if abs(change.gain) >= least]
    largest = [change for change in parts if change in named]
    rest = [change for change in parts if change not in named]
    if len(rest) < 2:
        return tuple(parts)
    before, after = (sum(getattr(each, name) or 0.0 for each in rest) for name in ("before", "after"))
    return (
        *largest,
        MarginChange(_counted(rest), before, after, sum(each.gain for each in rest)),
    )


def _counted(rest: Sequence[MarginChange]) -> str:
    """How many parts stand together, those apart that are new."""
    new = sum(change.before is None for change in rest)
    if not new:
        return f"{len(rest)} other parts"
    old = len(rest) - new
    return f"{new} new and {old} other parts" if old else f"{new} new parts"


def _losses(ledger: PumpLedger) -> Mapping[str, float]:
    """What is lost in each part; in the pump's own, at its port."""
    losses: dict[str, float] = {}
    for entry in ledger.entries:
        name = f"{entry.part}, port" if entry.part == ledger.pump else entry.part
        if entry.kind != HeadEntryKind.FLOODED:
            losses[name] = losses.get(name, 0.0) + entry.loss
    return losses


def counted(findings: Sequence[Finding]) -> str:
    """How many findings there are of each severity, the worst first."""
    numbers = Counter(finding.severity for finding in findings)
    counts = [f"{numbers[each]} {each}{'s'[: numbers[each] > 1]}" for each in Severity if numbers[each]]
    return ", ".join(counts) or "none"


def change_table(
    before: PumpLedger,
    after: PumpLedger,
    names: tuple[str, str],
    system: System,
    most: int = MOST,
    worst: tuple[float, float] | None = None,
    new: int = NEW,
) -> Table:
    """The causes, `most` parts and so many `new` ones by name, and the two margins they lead from and to.

    Both are of one case. worst: the least margins of all cases [Pa], where they are others.
    """
    unit = units.unit(Kind.VACUUM, system)
    headings = ("Entry", *(f"{name}\n{unit}" for name in names), f"Buys\n{unit}", "")
    gained = after.margin - before.margin
    changed = [
        *margin_changes(before, after, most, new),
        MarginChange(MARGIN, before.margin, after.margin, gained),
    ]
    if worst is not None:
        changed.append(MarginChange(WORST_CASE, *worst, worst[1] - worst[0]))
    rows = [
        Row((each.cause, *(figure(value, system) for value in (each.before, each.after, each.gain)), ""),
            bar=each.gain, bold=each.cause in (MARGIN, WORST_CASE), rule=each.cause == MARGIN)
        for each in changed
    ]  # fmt: skip
    return Table(headings, tuple(rows), frozenset((0, 4)), bar=4, whole=True)


def figure(value: float | None, system: System) -> str:
    """A pressure in the unit that vacuum is shown in; "" for none."""
    return "" if value is None else units.fixed(value, Kind.VACUUM, system)
