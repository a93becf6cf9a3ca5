"""The ledger as rows of figures: what there is to spend, what spends it in walking order, what lies in
parallel with that, what is left."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cache, cached_property, partial
from typing import overload

from sketch.drawing.ways import beyond
from solver.layout.kinds import FittingKind
from solver.ledger.path import HeadEntryKind
from solver.ledger.rounding import RoundedLedger, in_writing
from solver.ledger.solve import BudgetLine, Entry, PumpLedger, Solution
from solver.network.fittings import connector_length
from solver.quantities import units
from solver.quantities.units import MINUS, Kind, System
from solver.quantities.wording import ESTIMATED, capitalised

NOTHING = "\N{EN DASH}"
ROUNDED = "Figures are rounded so that they add up: one of them may be off by its last digit"


@dataclass(frozen=True, slots=True)
class LedgerColumn:
    """One column: its heading, what it measures (None for words), and the decimals it may show."""

    heading: str
    tip: str
    kind: Kind | None = None
    decimals: int = 0


COLUMNS = (
    LedgerColumn("Element", "In the order of flow, from the fluid surface to the pump port"),
    LedgerColumn("Part", "The part of the drawing that the element belongs to"),
    LedgerColumn(
        "Lift", "Pressure taken by raising the fluid, or given back by letting it fall", Kind.VACUUM, 2
    ),
    LedgerColumn("Loss", "Pressure taken by friction, fittings and screens", Kind.VACUUM, 2),
    LedgerColumn("Lift + loss", "What the element takes from the inlet budget", Kind.VACUUM, 2),
    LedgerColumn("Share", "Lift and loss as a share of the inlet budget", Kind.SHARE),
    LedgerColumn(
        "Pressure after",
        "Absolute static pressure at the end of the element. Under the fluid level it counts in the fluid "
        "that stands over it: on the way down it rises, whatever the element loses",
        Kind.ABSOLUTE,
        2,
    ),
    LedgerColumn("Velocity", "Mean velocity in the element", Kind.VELOCITY, 2),
    LedgerColumn(
        "Reynolds no.",
        "Inertia against viscosity; below 2000 the flow is laminar, above 4000 turbulent",
        Kind.NUMBER,
    ),
    LedgerColumn("Bore", "Inside diameter; where the bore changes, the smaller one", Kind.BORE, 2),
    LedgerColumn(
        "Length less bends",
        "Developed length of a straight without its bends, which are entries of their own, with its share of "
        "what runs out of the plane of the drawing; the part card has it to the corner. Of a flexible "
        "connector, what its K counts, on top of the lines drawn up to it",
        Kind.LENGTH,
        2,
    ),
    LedgerColumn("Friction factor", "Darcy's: velocity heads lost for each bore of length", Kind.NUMBER, 4),
    LedgerColumn("Fitting K", "Velocity heads lost in a fitting, at this Reynolds number", Kind.NUMBER, 2),
)
ELEMENT, PART, LIFT, LOSS, TOTAL, SHARE, PRESSURE, VELOCITY, REYNOLDS, BORE, LENGTH, FRICTION, K = range(
    len(COLUMNS)
)
ESSENTIAL = BORE
"""How many of the columns a page has room for; the rest say how the loss came about."""


class Role(StrEnum):
    """What a row of the ledger is."""

    FOLD = "fold"  # the budget, which opens and closes
    LINE = "line"  # of the budget
    ENTRY = "entry"
    PARALLEL = "parallel"  # the heading of entries on other ways
    SUM = "sum"


ShownPressures = Callable[[System], Mapping[int, float]]
"""The pressures of a row as they are shown in a system of units, by column."""


@dataclass(frozen=True, slots=True)
class LedgerRow:
    """One row: `figures` in SI, one a column, None where the cell says nothing."""

    role: Role
    name: str
    figures: tuple[float | None, ...]
    part: str = ""
    key: str = ""  # of the entry, "" for every other row
    note: str = ""
    line: BudgetLine | None = None  # that it is of
    past: bool = False  # the budget was used up before the end of this entry
    over: bool = False  # a margin that is none
    broken: bool = False  # fluid cannot have the pressure there
    shown: ShownPressures = field(default=lambda system: {}, compare=False, repr=False)

    def tip(self, system: System) -> str:
        """What to read where the pointer rests on it: of a line of the budget how that came about."""
        texts = (self.note,) if self.line is None else (self.line.text_in(system), self.line.source)
        return "\n".join(text for text in texts if text)


class LedgerRows(Sequence[LedgerRow]):
    """Every row of one pump's ledger, budget first, sums last; an entry's is made when it is looked at, as
    few of a long line are in sight."""

    def __init__(self, solution: Solution, pump: str) -> None:
        self._solution, self._pump = solution, pump
        self._ledger = ledger = solution.pumps[pump]
        self._first = 1 + len(ledger.surface_lines) + len(ledger.floor_lines)  # place of the first entry
        # The figures as they are shown. It holds nothing of these rows, which hold it: a cycle would keep the
        # solution of each frame of a drag until cycles are looked for.
        self.rounded: Rounded = cache(partial(RoundedLedger, ledger))
        self._below = tuple(_sums(ledger, self.rounded))
        self._between: tuple[Entry | None, ...] = ledger.entries  # None: the heading of what lies beside
        if ledger.parallel_entries:
            self._between = (*ledger.entries, None, *ledger.parallel_entries)
        self._made: dict[int, LedgerRow] = {}
        self._beyond: Mapping[str, float] | None = None

    def __len__(self) -> int:
        return self._first + len(self._between) + len(self._below)

    @property
    def first_sum(self) -> int:
        """The place of the first of the sums, which end the rows."""
        return self._first + len(self._between)

    @cached_property
    def _above(self) -> tuple[LedgerRow, ...]:
        """The rows of the budget; those of the sums are looked at without them in every frame of a drag."""
        several = len(self._solution.layout.pumps) > 1
        return tuple(_budget(self._ledger, self.rounded, self._pump if several else ""))

    @overload
    def __getitem__(self, at: int) -> LedgerRow: ...

    @overload
    def __getitem__(self, at: slice) -> tuple[LedgerRow, ...]: ...

    def __getitem__(self, at: int | slice) -> LedgerRow | tuple[LedgerRow, ...]:
        if isinstance(at, slice):
            return tuple(self[i] for i in range(*at.indices(len(self))))
        place = (at + len(self) if at < 0 else at) - self._first
        if place < 0:
            return self._above[place]
        if place >= len(self._between):
            return self._below[place - len(self._between)]
        if place not in self._made:
            self._made[place] = self._row(self._between[place])
        return self._made[place]

    def _row(self, entry: Entry | None) -> LedgerRow:
        if entry is None:
            return HEADING
        if self._beyond is None:
            self._beyond = beyond(self._solution, self._pump)
        fitting = self._solution.layout.fittings.get(entry.part)
        flexible = fitting is not None and fitting.kind == FittingKind.FLEXIBLE_CONNECTOR
        length = connector_length(fitting) if fitting is not None and flexible and entry.k else entry.length
        broken = entry.pressure <= self._ledger.vapor_pressure
        return _entry(entry, length, entry.key in self._beyond, broken, self.rounded)

    def are_of(self, solution: Solution, pump: str) -> bool:
        """Whether they show that pump of that solution."""
        return self._solution is solution and self._pump == pump

    def place_of(self, key: str) -> int:
        """The place of an entry's row; −1 for none."""
        places = enumerate(self._between, self._first)
        return next((at for at, entry in places if entry is not None and entry.key == key), -1)

    def alike(self, other: LedgerRows) -> bool:
        """Whether both have the same rows, whatever their figures."""
        return self._first == other._first and self._keys == other._keys

    @cached_property
    def _keys(self) -> list[str]:
        return ["" if entry is None else entry.key for entry in self._between]


def rows(solution: Solution, pump: str) -> LedgerRows:
    """Every row of one pump's ledger, budget first, sums last."""
    return LedgerRows(solution, pump)


def _figures(
    lift: float | None = None,
    loss: float | None = None,
    total: float | None = None,
    share: float | None = None,
    pressure: float | None = None,
    velocity: float | None = None,
    reynolds: float | None = None,
    bore: float | None = None,
    length: float | None = None,
    friction: float | None = None,
    k: float | None = None,
) -> tuple[float | None, ...]:
    return (None, None, lift, loss, total, share, pressure, velocity, reynolds, bore, length, friction, k)


Rounded = Callable[[System], RoundedLedger]


def _budget(ledger: PumpLedger, rounded: Rounded, named: str) -> Iterator[LedgerRow]:
    """The budget and its lines; named: the pump that it is of, where there are several."""
    whole = 1.0 if ledger.budget > 0 else None
    yield LedgerRow(
        Role.FOLD,
        "Inlet budget",
        _figures(total=ledger.budget, share=whole),
        part=f"of {named}" if named else "",
        note="The pressure at the fluid surface less the floor, the least absolute pressure at the port",
        shown=lambda system: {TOTAL: rounded(system).budget},
    )
    yield from budget(ledger, rounded)


def budget(ledger: PumpLedger, rounded: Rounded | None = None) -> Iterator[LedgerRow]:
    """Two sums, step by step, which the budget is the difference of: what there is at the fluid surface, and
    what must remain at the port. rounded: its figures as they are shown, where they are at hand."""
    figures = rounded or partial(RoundedLedger, ledger)
    for at, line in enumerate(ledger.surface_lines):
        yield _line(line, line.value, "what there is", partial(_step, figures, "surface_steps", at))
    for at, line in enumerate(ledger.floor_lines):
        yield _line(line, -line.value, "what must remain", partial(_step, figures, "floor_steps", at))


def _step(rounded: Rounded, sums: str, at: int, system: System) -> Mapping[int, float]:
    value, total = getattr(rounded(system), sums)[at]
    return {TOTAL: value, PRESSURE: total}


def _line(line: BudgetLine, value: float, part: str, shown: ShownPressures) -> LedgerRow:
    name = capitalised(line.name) + (" (estimated)" if line.estimated else "")
    figures = _figures(total=value, pressure=line.total)
    return LedgerRow(Role.LINE, name, figures, part=part, line=line, shown=shown)


def _entry(entry: Entry, length: float, past: bool, broken: bool, rounded: Rounded) -> LedgerRow:
    figures = _figures(
        entry.lift,
        entry.loss,
        entry.lift + entry.loss,
        entry.share,
        None if entry.kind == HeadEntryKind.FLOODED else entry.pressure,  # of the port's height alone
        entry.velocity or None,
        entry.reynolds or None,
        entry.bore or None,
        length or None,
        entry.friction_factor,
        entry.k or None,
    )
    name = "velocity head" if entry.kind == HeadEntryKind.PORT else entry.element

    def shown(system: System) -> Mapping[int, float]:
        return dict(zip((LIFT, LOSS, TOTAL, PRESSURE), rounded(system).entry(entry), strict=True))

    return LedgerRow(Role.ENTRY, name, figures, entry.part, entry.key, past=past, broken=broken, shown=shown)


HEADING = LedgerRow(
    Role.PARALLEL,
    "In parallel with this path",
    _figures(),
    part="not in the sums",
    note="Lines that carry the rest of the flow. Where ways part and meet again, each of them takes the "
    "same: what these elements take is not spent once more, and no part of the sums.",
)


def _sums(ledger: PumpLedger, rounded: Rounded) -> Iterator[LedgerRow]:
    lift = sum([entry.lift for entry in ledger.entries])  # a generator takes twice the time
    loss = sum([entry.loss for entry in ledger.entries])
    positive, estimated = ledger.budget > 0, ESTIMATED if ledger.limit_estimated else ""
    yield LedgerRow(
        Role.SUM,
        "Spent",
        _figures(lift, loss, ledger.spent, ledger.spent / ledger.budget if positive else None, ledger.inlet),
        part="at the port",
        broken=ledger.inlet <= ledger.vapor_pressure,
        note=ROUNDED,
        shown=lambda system: _spent(rounded(system)),
    )
    yield LedgerRow(
        Role.SUM,
        "Margin",
        _figures(
            total=ledger.margin,
            share=ledger.margin / ledger.budget if positive else None,
            pressure=ledger.floor,
        ),
        part=("above the floor" if ledger.margin >= 0 else "below the floor") + estimated,
        over=ledger.margin < 0,
        note=f"What is left of the inlet budget; negative when more is spent than there is.\n{ROUNDED}",
        shown=lambda system: {TOTAL: rounded(system).margin, PRESSURE: rounded(system).floor},
    )


def _spent(figures: RoundedLedger) -> Mapping[int, float]:
    return {LIFT: figures.lift, LOSS: figures.loss, TOTAL: figures.spent, PRESSURE: figures.inlet}


def heading(column: int, system: System) -> str:
    """The heading of a column, its unit on the second line; a long one without a unit takes both lines."""
    shown = COLUMNS[column]
    if shown.kind is Kind.NUMBER:
        return shown.heading.replace(" ", "\n")
    if shown.kind is None:
        return shown.heading
    return f"{shown.heading}\n{unit(column, system)}"


def unit(column: int, system: System) -> str:
    """The unit of a column as the table shows it; "" for words and plain numbers."""
    kind = COLUMNS[column].kind
    if kind is None or kind is Kind.NUMBER:
        return ""
    if kind is Kind.SHARE:
        return "%"
    return units.unit(kind, system)


PRESSURES = (Kind.VACUUM, Kind.ABSOLUTE)


def text(row: LedgerRow, column: int, system: System) -> str:
    """What a cell shows."""
    if column == ELEMENT:
        return row.name
    if column == PART:
        return row.part
    head = COLUMNS[column]
    value = row.figures[column]
    if head.kind is None or value is None:
        return ""
    if column in (LIFT, LOSS) and value == 0.0:
        return NOTHING
    if head.kind in PRESSURES:
        return "breaks" if row.broken and column == PRESSURE else in_writing(row.shown(system)[column])
    shown = units.to_display(value, head.kind, system)
    return share_figure(shown) if head.kind is Kind.SHARE else figure(shown, head.decimals)


def figure(value: float, decimals: int) -> str:
    """Three significant digits, never more than `decimals` after the point, thousands set apart."""
    value = float(f"{value:.3g}")
    size = math.floor(math.log10(abs(value))) if value else 0
    shown = f"{abs(value):,.{max(0, min(decimals, 2 - size))}f}".replace(",", "\N{NARROW NO-BREAK SPACE}")
    negative = value < 0 and any(digit in shown for digit in "123456789")
    return MINUS + shown if negative else shown


def share_figure(percent: float) -> str:
    """A share in whole per cent; "<1" for what is there but would round to nothing."""
    whole = round(percent)
    if whole == 0 and percent > 0.005:
        return "<1"
    return f"{MINUS}{-whole}" if whole < 0 else str(whole)


def sentence(row: LedgerRow, system: System) -> str:
    """The row in words, for whoever hears it instead of seeing it."""
    parts = [f"{row.name}, {row.part}" if row.part else row.name]
    for column in range(LIFT, len(COLUMNS)):
        shown = text(row, column, system)
        if shown and shown != NOTHING:
            parts.append(f"{COLUMNS[column].heading.lower()} {shown} {unit(column, system)}".rstrip())
    return ", ".join(parts)
