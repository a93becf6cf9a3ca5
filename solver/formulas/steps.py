"""One step of a working: a result with its formula, the numbers in it, its source and where it holds."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from solver.formulas.formula import PLAIN, Notation, Symbol, every_symbol
from solver.formulas.record import Record
from solver.formulas.worked import (
    Line,
    Worked,
    Writing,
    display_unit,
    outside,
    shortened,
    si_unit,
    with_unit,
    write,
    written,
)
from solver.quantities.units import System

GIVEN_DIGITS = 5
"""Significant digits of a figure that is given, or taken over from elsewhere."""


@dataclass(frozen=True)
class Step:
    """A result of a formula, or a figure that is given (no formula, no numbers).

    `text`, `numbers`, `si_lines` and `result` write it; see `worked.Writing` for the lines.
    """

    name: str
    result_symbol: Symbol
    value: float  # SI, or in the symbol's own unit where it names one
    system: System
    source: str
    worked: Worked | None = None  # None: given
    valid: str = ""  # where the formula holds
    outside: str = ""  # a sentence where the value leaves that range, or a caution goes with it
    line: str = ""  # the budget line that it explains

    def symbol(self, notation: Notation = PLAIN) -> str:
        """The symbol of the result."""
        return notation.symbol(self.result_symbol)

    def formula(self, notation: Notation = PLAIN) -> str:
        """The formula with its symbols; an equation where that is all there is; "" for a given figure."""
        return "" if self.worked is None else shortened(self.worked).relation.text(notation=notation)

    def writing(self, notation: Notation = PLAIN) -> Writing:
        """The formula with its numbers."""
        if self.worked is not None:
            return write(shortened(self.worked), self.system, notation)
        unit = display_unit(self.result_symbol, self.system)
        figure = with_unit(written(unit.of(self.value), GIVEN_DIGITS), unit.text, notation)
        return Writing((), (), figure)

    @property
    def numbers(self) -> tuple[Line, ...]:
        """The numbers put in, one line a side of the relation."""
        return self.writing().lines

    @property
    def result(self) -> str:
        """The result with its unit."""
        return self.writing().result

    @property
    def implicit(self) -> bool:
        """Whether the formula is an equation that the result meets, rather than a way to compute it."""
        return self.worked is not None and len(self.worked.relation.sides) > 1

    def counted(self, notation: Notation = PLAIN) -> str:
        """In what the numbers of a formula that goes with set units are counted: "Q in m³/s"; or ""."""
        if self.worked is None or not self.worked.relation.fixed_units:
            return ""
        relation = shortened(self.worked).relation
        by_unit: dict[str, list[str]] = {}
        for symbol in dict.fromkeys((*relation.symbols, relation.result)):
            by_unit.setdefault(si_unit(symbol).text, []).append(notation.symbol(symbol))
        return ", ".join(f"{' and '.join(names)} in {unit}" for unit, names in by_unit.items() if unit)


@dataclass(frozen=True, slots=True)
class Working:
    """How one thing comes about."""

    key: str
    title: str
    part: str  # of the drawing; "" for what belongs to none
    steps: tuple[Step, ...]

    @property
    def cautions(self) -> tuple[str, ...]:
        """What lies outside the range of its formula, in sentences, each once."""
        return tuple(dict.fromkeys(step.outside for step in self.steps if step.outside))


def steps(records: Iterable[Record], system: System) -> tuple[Step, ...]:
    """What a calculation recorded, to be written in the units of a display system."""
    return tuple(
        Step(
            record.name,
            record.symbol,
            record.value,
            system,
            record.source,
            record.worked,
            "" if record.worked is None else record.worked.relation.valid,
            "" if record.worked is None else outside(record.worked, system),
        )
        for record in records
    )


def symbols_of(steps: Iterable[Step]) -> tuple[Symbol, ...]:
    """Every symbol in some steps, each once, as they come."""
    symbols: dict[tuple[str, str], Symbol] = {}
    for step in steps:
        relations = [] if step.worked is None else [shortened(step.worked).relation]
        for symbol in (step.result_symbol, *every_symbol(relations)):
            symbols.setdefault((symbol.symbol, symbol.meaning), symbol)
    return tuple(symbols.values())
