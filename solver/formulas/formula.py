"""Formulas: a tree with its name, symbols, source and range, computed and printed from the one tree.

A tree compiles once, when first called, to a plain function of floats and to one of numpy arrays.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Any, overload

import numpy as np
from numpy.typing import NDArray

from solver.formulas.tree import (
    HTML,
    PLAIN,
    UNBROKEN,
    Constant,
    Node,
    Notation,
    Number,
    Numbers,
    Symbol,
    atan,
    exp,
    largest,
    least,
    log,
    log10,
    reduced,
    renamed,
    sin,
    sqrt,
    superscript,
    tan,
)
from solver.quantities import columns

__all__ = [
    "HTML",
    "PLAIN",
    "UNBROKEN",
    "Bound",
    "Constant",
    "Floats",
    "Formula",
    "Implicit",
    "Node",
    "Notation",
    "Number",
    "Relation",
    "Symbol",
    "atan",
    "constants",
    "exp",
    "largest",
    "least",
    "log",
    "log10",
    "sin",
    "sqrt",
    "superscript",
    "tan",
    "without",
]

Floats = NDArray[np.float64]

_SCALAR = {
    "exp": columns.exp,
    "log": columns.log,
    "log10": columns.log10,
    "sqrt": columns.sqrt,
    "sin": columns.sin,
    "tan": columns.tan,
    "atan": columns.atan,
    "max": columns.largest,
    "min": columns.least,
}
_ARRAY = {
    "exp": np.exp,
    "log": np.log,
    "log10": np.log10,
    "sqrt": np.sqrt,
    "sin": np.sin,
    "tan": np.tan,
    "atan": np.arctan,
    "max": np.maximum,
    "min": np.minimum,
}


def constants(*trees: Node) -> tuple[Constant, ...]:
    """The constants of some trees, each once."""
    by_symbol = {leaf.symbol: leaf for tree in trees for leaf in tree.leaves() if isinstance(leaf, Constant)}
    return tuple(by_symbol.values())


def _compiled(tree: Node, arguments: Iterable[Symbol], functions: Mapping[str, Any]) -> Callable[..., Any]:
    """The tree as a function of `arguments` in their order; other constants keep their value."""
    known = {constant.symbol: constant.value for constant in constants(tree)}
    source = f"lambda {', '.join(symbol.symbol for symbol in arguments)}: {tree.code()}"
    compiled: Callable[..., Any] = eval(source, {"__builtins__": {}, **functions, **known})
    return compiled


@dataclass(frozen=True, eq=False)
class Bound:
    """From where to where something must lie for a formula to hold: a symbol, or `of` several."""

    symbol: Symbol
    low: float = -math.inf
    high: float = math.inf
    of: Node | None = None

    def value(self, named: Mapping[str, float]) -> float:
        """What it is at these values of the formula's symbols."""
        tree = self.symbol if self.of is None else self.of
        leaves = {leaf.symbol: leaf for leaf in tree.leaves() if not isinstance(leaf, Constant)}
        value: float = _compiled(tree, leaves.values(), _SCALAR)(*(named[name] for name in leaves))
        return value


@dataclass(frozen=True, eq=False)
class Formula:
    """One formula: computed when called, printed by `text`.

    Call it with values in the order of `symbols`, or by their symbols: floats, or arrays that broadcast.
    `scalar` and `array` are the compiled functions themselves, for where the values' type is known; `scalar`
    takes columns too (see `figures`).
    """

    name: str
    result: Symbol
    symbols: tuple[Symbol, ...]
    expression: Node
    source: str
    valid: str = ""  # where it holds, in words; `bounds` says the same in numbers
    bounds: tuple[Bound, ...] = ()
    caution: str = ""  # a reservation that goes with every use
    fixed_units: bool = False  # its numbers go with the units of its symbols, SI unless they name another

    def __post_init__(self) -> None:
        used = {leaf.symbol for leaf in self.expression.leaves() if not isinstance(leaf, Constant)}
        if used != {symbol.symbol for symbol in self.symbols}:
            raise ValueError(f"{self.name}: its symbols are not those of its expression")

    @cached_property
    def scalar(self) -> Callable[..., float]:
        """It as a function of plain floats, which are taken as they come."""
        return _compiled(self.expression, self.symbols, _SCALAR)

    @cached_property
    def array(self) -> Callable[..., Floats]:
        """It as a function of arrays, or of floats among arrays."""
        return _compiled(self.expression, self.symbols, _ARRAY)

    def with_symbols(self, symbols: Mapping[Symbol, Symbol], name: str) -> Formula:
        """This formula for another thing: with other symbols, and a name of its own."""
        return replace(
            self,
            name=name,
            result=symbols.get(self.result, self.result),
            symbols=tuple(symbols.get(symbol, symbol) for symbol in self.symbols),
            expression=renamed(self.expression, symbols),
            bounds=(),
        )

    @overload
    def __call__(self, *values: float, **named: float) -> float: ...  # type: ignore[overload-overlap] # all floats

    @overload
    def __call__(self, *values: float | Floats, **named: float | Floats) -> Floats: ...

    def __call__(self, *values: Any, **named: Any) -> Any:
        arrays = any(isinstance(v, np.ndarray) for v in (*values, *named.values()))
        return (self.array if arrays else self.scalar)(*values, **named)

    @property
    def trivial(self) -> bool:
        """Whether it only says that one symbol is another."""
        return isinstance(self.expression, Symbol)

    @property
    def sides(self) -> tuple[Node, ...]:
        """What has the value of the result when numbers are put in."""
        return (self.expression,)

    @cached_property
    def side_functions(self) -> tuple[Callable[..., float], ...]:
        """The sides as functions of the symbols and then the constants, which may have been rounded."""
        return _side_functions(self.sides, self.symbols)

    def text(self, numbers: Numbers | None = None, notation: Notation = PLAIN) -> str:
        """The right-hand side, each symbol replaced by its entry in `numbers` where it has one."""
        return self.expression.text(numbers, notation)


@dataclass(frozen=True, eq=False)
class Implicit:
    """A quantity fixed by an equation that only an algorithm solves; `left` = `right` checks it by hand."""

    name: str
    result: Symbol
    symbols: tuple[Symbol, ...]
    left: Node
    right: Node
    function: Callable[..., Any]
    source: str
    valid: str = ""
    bounds: tuple[Bound, ...] = ()
    caution: str = ""
    fixed_units: bool = False

    @overload
    def __call__(self, *values: float, **named: float) -> float: ...  # type: ignore[overload-overlap] # all floats

    @overload
    def __call__(self, *values: float | Floats, **named: float | Floats) -> Floats: ...

    def __call__(self, *values: Any, **named: Any) -> Any:
        return self.function(*values, **named)

    @property
    def scalar(self) -> Callable[..., float]:
        """It as a function of plain floats, which are taken as they come."""
        return self.function

    @property
    def array(self) -> Callable[..., Floats]:
        """It as a function of arrays, or of floats among arrays."""
        return self.function

    @property
    def trivial(self) -> bool:
        """Never: an equation says more than that one symbol is another."""
        return False

    @property
    def sides(self) -> tuple[Node, ...]:
        """Both sides of the equation."""
        return (self.left, self.right)

    @cached_property
    def side_functions(self) -> tuple[Callable[..., float], ...]:
        """The sides as functions of the symbols, the result and then the constants."""
        return _side_functions(self.sides, (*self.symbols, self.result))

    def text(self, numbers: Numbers | None = None, notation: Notation = PLAIN) -> str:
        """The equation, each symbol replaced by its entry in `numbers` where it has one."""
        return f"{self.left.text(numbers, notation)} = {self.right.text(numbers, notation)}"


Relation = Formula | Implicit


def _side_functions(sides: Sequence[Node], symbols: Iterable[Symbol]) -> tuple[Callable[..., float], ...]:
    arguments = (*symbols, *constants(*sides))
    return tuple(_compiled(side, arguments, _SCALAR) for side in sides)


@lru_cache(maxsize=1024)
def without(formula: Formula, known: tuple[tuple[str, float], ...]) -> Formula:
    """The formula with symbols that are 0 or 1 put in, and what then counts for nothing left out.

    known: pairs of a symbol's name and its value.
    """
    shorter = reduced(formula.expression, dict(known))
    left = {leaf.symbol for leaf in shorter.leaves()}
    kept = tuple(symbol for symbol in formula.symbols if symbol.symbol in left)
    bounds = tuple(bound for bound in formula.bounds if _needs(bound) <= left)
    return replace(formula, symbols=kept, expression=shorter, bounds=bounds)


def _needs(bound: Bound) -> set[str]:
    tree = bound.symbol if bound.of is None else bound.of
    return {leaf.symbol for leaf in tree.leaves()}


def every_symbol(relations: Iterable[Relation]) -> Iterator[Symbol]:
    """The symbols of some relations with their results and constants, each once, as they come."""
    seen: set[str] = set()
    for relation in relations:
        for symbol in (relation.result, *relation.symbols, *constants(*relation.sides)):
            if symbol.symbol not in seen:
                seen.add(symbol.symbol)
                yield symbol
