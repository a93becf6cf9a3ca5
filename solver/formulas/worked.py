"""A formula with the numbers it was computed from: its value, and the same in writing.

Numbers are written in the display system, each with its unit, and once more without units in the SI units of
their kinds, so that a pocket calculator gets there. What is put in carries as many digits as the arithmetic
needs to arrive at the printed result.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from solver.formulas.formula import (
    PLAIN,
    Bound,
    Constant,
    Formula,
    Implicit,
    Notation,
    Relation,
    Symbol,
    constants,
    superscript,
    without,
)
from solver.quantities import units
from solver.quantities.units import Kind, System

RESULT_DIGITS = 4
"""Significant digits of a result: one more than it earns, so that the arithmetic can be followed."""

LEAST_DIGITS, MOST_DIGITS = 5, 15
"""Of what is put in; more than the least only where the result would come out another."""

NOTHING = 1e-13
"""Below it a value in SI units is what rounding has left of nothing."""

SI_UNITS = {
    Kind.LENGTH: "m",
    Kind.BORE: "m",
    Kind.ELEVATION: "m",
    Kind.AREA: "m²",
    Kind.VOLUME: "m³",
    Kind.PRESSURE: "Pa",
    Kind.VACUUM: "Pa",
    Kind.HEAD: "m",
    Kind.FLOW: "m³/s",
    Kind.FLOW_COEFFICIENT_KV: "m³/s",
    Kind.FLOW_COEFFICIENT_CV: "m³/s",
    Kind.VELOCITY: "m/s",
    Kind.TEMPERATURE: "K",
    Kind.VISCOSITY: "m²/s",
    Kind.DENSITY: "kg/m³",
    Kind.DISPLACEMENT: "m³/rev",
    Kind.SPEED: "rev/s",
    Kind.WIRES: "1/m",
    Kind.TIME: "s",
    Kind.FORCE: "N",
    Kind.NUMBER: "",
    Kind.SHARE: "",
}
"""What SI floats are counted in, by kind."""


class Worked(NamedTuple):
    """A relation, the values of its symbols in their order, and what they make. SI, as its symbols say."""

    relation: Relation
    values: tuple[float, ...]
    value: float

    @property
    def named(self) -> dict[str, float]:
        """The values by symbol, the result among them."""
        given = {s.symbol: v for s, v in zip(self.relation.symbols, self.values, strict=True)}
        return {self.relation.result.symbol: self.value, **given}


def work(relation: Relation, *values: float) -> Worked:
    """Compute a relation at some values, in the order of its symbols, and keep them."""
    return Worked(relation, values, relation.scalar(*values))


def shortened(worked: Worked) -> Worked:
    """The worked formula without what counts for nothing: terms of 0, factors of 1."""
    relation = worked.relation
    if isinstance(relation, Implicit):
        return worked
    pairs = tuple(zip(relation.symbols, worked.values, strict=True))
    # A factor of one metre is no factor of 1.
    removed = tuple((s.symbol, v) for s, v in pairs if v == 0.0 or (v == 1.0 and s.kind is Kind.NUMBER))
    shorter = without(relation, removed) if removed else relation
    if not shorter.symbols:
        return worked
    named = worked.named
    return Worked(shorter, tuple(named[symbol.symbol] for symbol in shorter.symbols), worked.value)


def result_digits(symbol: Symbol | None) -> int:
    """Significant digits of a result. An absolute temperature needs one more to show a tenth of a degree."""
    return RESULT_DIGITS + 1 if symbol is not None and symbol.kind is Kind.TEMPERATURE else RESULT_DIGITS


class Unit(NamedTuple):
    """How a symbol's values are written: the unit, and the way there and back."""

    text: str
    kind: Kind | None = None
    system: System = System.SI
    factor: float = 1.0  # where there is no kind

    def of(self, si: float) -> float:
        """The value in this unit of an SI value."""
        return si * self.factor if self.kind is None else units.to_display(si, self.kind, self.system)

    def back(self, value: float) -> float:
        """The SI value of a value in this unit."""
        return value / self.factor if self.kind is None else units.from_display(value, self.kind, self.system)


def display_unit(symbol: Symbol, system: System) -> Unit:
    """The unit a symbol is written in. All pressures share one, so that sums of them need no conversion;
    temperatures in formulas are absolute."""
    kind = symbol.kind
    if kind is None or kind in (Kind.TEMPERATURE, Kind.NUMBER):
        if isinstance(symbol, Constant) and symbol.us is not None and system is System.US:
            return Unit(symbol.us[0], factor=symbol.us[1])
        return si_unit(symbol)
    shown = Kind.VACUUM if kind is Kind.PRESSURE else kind
    return Unit(units.unit(shown, system), shown, system)


def si_unit(symbol: Symbol) -> Unit:
    """The unit of a symbol's values as they are computed."""
    return Unit(symbol.unit if symbol.kind is None else SI_UNITS[symbol.kind])


def written(value: float, digits: int) -> str:
    """A number of so many significant digits, with a power of ten where it is very small or large."""
    if value == 0.0 or not math.isfinite(value):
        return "0" if value == 0.0 else "—"
    exponent = int(f"{value:.{digits - 1}e}".partition("e")[2])
    if -5 < exponent < 7:
        text = f"{value:.{max(digits - 1 - exponent, 0)}f}"
    else:
        text = f"{value / 10.0**exponent:.{digits - 1}f}"
    if "." in text and abs(float(text) * (1.0 if -5 < exponent < 7 else 10.0**exponent) / value - 1) < 1e-12:
        text = text.rstrip("0").rstrip(".")
    text = text.replace("-", "−")
    return text if -5 < exponent < 7 else f"{text}·10{superscript(exponent)}"


def read(text: str) -> float:
    """The number that `written` wrote."""
    mantissa, _, power = text.replace("−", "-").partition("·10")
    exponent = power.translate(str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789"))
    return float(f"{mantissa}e{exponent or 0}")


class Line(NamedTuple):
    """One side of a relation in writing, and what it comes to, with its unit."""

    numbers: str
    result: str


@dataclass(frozen=True, slots=True)
class Writing:
    """A worked relation in writing. There is one line a side: one for a formula, two for an equation."""

    lines: tuple[Line, ...]  # in display units; the plain numbers of a formula that goes with set units
    si_lines: tuple[
        Line, ...
    ]  # without units, in SI; empty where the lines above can be typed in as they stand
    result: str  # of the whole, with its unit


def write(worked: Worked, system: System, notation: Notation = PLAIN) -> Writing:
    """Put a worked relation in writing."""
    relation = worked.relation
    sides = [_Side(worked, i) for i in range(len(relation.sides))]
    shown = display_unit(relation.result, system)
    result = with_unit(
        written(_clean(shown.of(worked.value)), result_digits(relation.result)), shown.text, notation
    )
    si_lines = tuple(side.line(None, System.SI, notation) for side in sides)
    if relation.fixed_units:
        return Writing(si_lines, (), result)
    lines = tuple(side.line(shown, system, notation) for side in sides)
    typed = all(side.types_in(system) for side in sides)
    return Writing(lines, () if typed else si_lines, result)


class _Side:
    """One side of a worked relation, with every symbol and constant that is put in."""

    def __init__(self, worked: Worked, number: int) -> None:
        relation = worked.relation
        self.node, self.compute = relation.sides[number], relation.side_functions[number]
        self.result = relation.result if isinstance(relation, Formula) else None
        given = relation.symbols if self.result is not None else (*relation.symbols, relation.result)
        self.symbols: tuple[Symbol, ...] = (*given, *constants(*relation.sides))
        named = worked.named
        self.values = [s.value if isinstance(s, Constant) else named[s.symbol] for s in self.symbols]
        self.value = self.compute(*self.values)

    def line(self, shown: Unit | None, system: System, notation: Notation) -> Line:
        """In the display system, or in SI without units where `shown` is None."""
        ways = [si_unit(s) if shown is None else display_unit(s, system) for s in self.symbols]
        unit = shown or (si_unit(self.result) if self.result else Unit(""))
        if self.result is None:
            unit = Unit("")
        numbers, result = self._rounded(ways, unit)
        pairs = zip(numbers, ways, strict=True)
        texts = [with_unit(n, "" if shown is None else way.text, notation) for n, way in pairs]
        put = {s.symbol: t for s, t in zip(self.symbols, texts, strict=True) if s.symbol != "π"}
        return Line(self.node.text(put, notation), with_unit(result, unit.text, notation))

    def _rounded(self, ways: list[Unit], unit: Unit) -> tuple[list[str], str]:
        """The numbers with as many digits as it takes to arrive at the result as printed."""
        shown = unit.of(self.value)
        result = written(_clean(shown, self.value), result_digits(self.result))
        target, half = read(result), _half_digit(result)
        numbers: list[str] = []
        for digits in range(LEAST_DIGITS, MOST_DIGITS + 1):
            numbers = list(self._written(ways, digits))
            reached = unit.of(self.compute(*self._si(numbers, ways)))
            if abs(reached - target) <= half:
                break
        return numbers, result

    def _written(self, ways: list[Unit], digits: int) -> Iterator[str]:
        for symbol, way, value in zip(self.symbols, ways, self.values, strict=True):
            more = digits + 1 if isinstance(symbol, Constant) else digits
            yield written(_clean(way.of(value), value), more)

    def _si(self, numbers: list[str], ways: list[Unit]) -> Iterator[float]:
        for symbol, number, way in zip(self.symbols, numbers, ways, strict=True):
            yield math.pi if symbol.symbol == "π" else way.back(read(number))

    def types_in(self, system: System) -> bool:
        """Whether the numbers as shown, typed in without their units, arrive at the result as shown."""
        ways = [display_unit(s, system) for s in self.symbols]
        unit = display_unit(self.result, system) if self.result else Unit("")
        numbers, result = self._rounded(ways, unit)
        typed = [math.pi if s.symbol == "π" else read(n) for s, n in zip(self.symbols, numbers, strict=True)]
        try:
            scale = 100.0 if unit.text == "%" else 1.0
            return abs(scale * self.compute(*typed) - read(result)) <= _half_digit(result)
        except (ValueError, ZeroDivisionError, OverflowError):
            return False


def _clean(value: float, si: float | None = None) -> float:
    return 0.0 if abs(value if si is None else si) < NOTHING else value


def _half_digit(text: str) -> float:
    """Half a unit of the last printed digit, and a hair for the binary of it."""
    mantissa, _, power = text.partition("·")
    places = len(mantissa.partition(".")[2])
    scale = read("1·" + power) if power else 1.0
    whole = 0.5 * 10.0**-places if float(mantissa.replace("−", "-")) else 1e-9
    return whole * scale * (1 + 1e-9)


def with_unit(number: str, unit: str, notation: Notation = PLAIN) -> str:
    """A number with its unit after it."""
    return f"{number}{notation.gap}{unit}" if unit else number


def outside(worked: Worked, system: System) -> str:
    """A sentence where something lies outside the range of the formula, or a caution goes with it; or ""."""
    relation, sentences = worked.relation, []
    for bound in relation.bounds:
        value = bound.value(worked.named)
        if not bound.low * (1 - 1e-12) <= value <= bound.high * (1 + 1e-12):
            sentences.append(_sentence(bound, value, relation.valid, system))
    if relation.caution:
        sentences.append(relation.caution)
    return " ".join(sentences)


def _sentence(bound: Bound, value: float, valid: str, system: System) -> str:
    unit = display_unit(bound.symbol, system)
    figure = with_unit(written(unit.of(value), 3), unit.text)
    return f"Outside its range: the {bound.symbol.meaning} is {figure}; it holds for {valid}."
