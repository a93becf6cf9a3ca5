"""What every change between two ledgers of a pump is worth in margin."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from sketch.page.blocks import Paragraph
from sketch.page.table import Row, Table
from solver.findings.criteria import Finding
from solver.findings.kinds import Severity
from solver.ledger.path import HeadEntryKind
from solver.ledger.rounding import RoundedLedger, in_decimals
from solver.ledger.solve import Entry, PumpLedger
from solver.quantities import units
from solver.quantities.adding import as_shown, gained, written
from solver.quantities.units import Kind, System
from solver.quantities.wording import ledger_pressure

LEAST = 0.005
MOST, NEW = 6, 3
"""Of the budget; parts that change the margin by less, and those after so many, are told together; but for so
many of those that are new."""

MARGIN, WORST_CASE = "Margin", "Worst case"

BUDGET, SPENT = "Inlet budget", "Spent"
GAINED = frozenset((BUDGET, MARGIN, WORST_CASE))
"""Lines of which more is better."""


@dataclass(frozen=True, slots=True)
class MarginChange:
    """One cause: what it was, what it is, what that adds to the margin [Pa]; None where it is not there."""

    cause: str
    before: float | None
    after: float | None
    gain: float
    parts: frozenset[str] = frozenset()  # whose loss it is


def in_short(before: PumpLedger, after: PumpLedger) -> tuple[MarginChange, ...]:
    """From one margin to another by the budget and all that is spent of it, lift and losses in one."""
    return (
        MarginChange(BUDGET, before.budget, after.budget, after.budget - before.budget),
        MarginChange(SPENT, before.spent, after.spent, before.spent - after.spent),
    )


def margin_changes(
    before: PumpLedger, after: PumpLedger, most: int = MOST, new: int = NEW
) -> tuple[MarginChange, ...]:
    """From one margin to another, cause by cause: the budget, the lift, then the loss of every part.

    The gains add up to the difference of the margins. Of the parts the largest gains and costs come first;
    what is worth next to nothing, and what comes after `most` parts, is one line at the end. So many of
    what is `new` are named besides: it is what the alternative costs.
    """
    lift = [sum(entry.lift for entry in each.entries) for each in (before, after)]
    losses = _by_part(before), _by_part(after)
    parts = []
    for part in dict.fromkeys((*losses[0], *losses[1])):
        was, now = (sum(e.loss for e in each[part]) if part in each else None for each in losses)
        parts.append(MarginChange(part, was, now, (was or 0.0) - (now or 0.0), frozenset((part,))))
    parts.sort(key=lambda change: -abs(change.gain))
    return (
        MarginChange(BUDGET, before.budget, after.budget, after.budget - before.budget),
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
    names = frozenset(change.cause for change in rest)
    return (*largest, MarginChange(_counted(rest), before, after, sum(each.gain for each in rest), names))


def _counted(rest: Sequence[MarginChange]) -> str:
    """How many parts stand together, those apart that are new."""
    new = sum(change.before is None for change in rest)
    if not new:
        return f"{len(rest)} other parts"
    old = len(rest) - new
    return f"{new} new and {old} other parts" if old else f"{new} new parts"


def _by_part(ledger: PumpLedger) -> Mapping[str, Sequence[Entry]]:
    """The entries with a loss of each part; of the pump's own, at its port."""
    entries: dict[str, list[Entry]] = {}
    for entry in ledger.entries:
        name = f"{entry.part}, port" if entry.part == ledger.pump else entry.part
        if entry.kind != HeadEntryKind.FLOODED:
            entries.setdefault(name, []).append(entry)
    return entries


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

    Both are of one case. most: 0 for budget and spent alone. worst: the least margins of all cases [Pa],
    where they are others.
    """
    headings = (f"Entry, {units.unit(Kind.VACUUM, system)}", *names, "Buys", "")
    gained = after.margin - before.margin
    changes = margin_changes(before, after, most, new) if most else in_short(before, after)
    ends = [MarginChange(MARGIN, before.margin, after.margin, gained)]
    if worst is not None:
        ends.append(MarginChange(WORST_CASE, *worst, worst[1] - worst[0]))
    columns = [_shown(changes, each, system) for each in (before, after)]
    shown = [*zip(changes, *columns, strict=True), *((each, *_own(each, system)) for each in ends)]
    rows = [
        Row(
            (each.cause, *_cells(each, was, now), ""),
            bar=each.gain,
            bold=each in ends,
            rule=each.cause == MARGIN,
        )
        for each, was, now in shown
    ]
    return Table(headings, tuple(rows), frozenset((0, 4)), bar=4, whole=True)


def _own(change: MarginChange, system: System) -> tuple[Decimal | None, Decimal | None]:
    """Both figures of a margin, as every view shows it."""
    before, after = (
        None if each is None else as_shown(each, Kind.VACUUM, system)
        for each in (change.before, change.after)
    )
    return before, after


def _shown(changes: Sequence[MarginChange], ledger: PumpLedger, system: System) -> list[Decimal | None]:
    """A column as its ledger shows it: the budget, the lift, the losses of parts."""
    figures, entries = RoundedLedger(ledger, system), _by_part(ledger)

    def loss(change: MarginChange) -> Decimal | None:
        held = [entry for part in change.parts for entry in entries.get(part, ())]
        return in_decimals(sum(figures.entry(entry)[1] for entry in held)) if held else None

    if changes[-1].cause == SPENT:
        return [in_decimals(figures.budget), in_decimals(figures.spent)]
    return [in_decimals(figures.budget), in_decimals(figures.lift), *map(loss, changes[2:])]


def _cells(change: MarginChange, before: Decimal | None, after: Decimal | None) -> tuple[str, str, str]:
    """Both figures, and what they buy as shown: what the budget or a margin gains, or a part takes less."""
    gained = (after or Decimal(0)) - (before or Decimal(0))
    buys = gained if change.cause in GAINED else -gained
    was, now = ("" if each is None else written(each) for each in (before, after))
    return was, now, written(buys)


def figure(value: float | None, system: System) -> str:
    """A pressure in the unit that vacuum is shown in; "" for none."""
    return "" if value is None else units.fixed(value, Kind.VACUUM, system)


def margin_gain(before: PumpLedger, after: PumpLedger, system: System) -> str:
    """What one margin has over another, both as they are shown."""
    was, now = (as_shown(each.margin, Kind.VACUUM, system) for each in (before, after))
    return written(now - was)


def in_a_line(whose: str, before: float, after: float, system: System) -> Paragraph:
    """What a choice that the bars are not of buys, in words; both margins are of one case [Pa]."""
    buys = gained(before, after, Kind.VACUUM, system)
    was, now, gain = (ledger_pressure(each, system) for each in (before, after, buys))
    return Paragraph(f"{whose}: margin {was} before, {now} after, buys {gain}.")
