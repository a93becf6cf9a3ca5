"""Formulas as small expression trees: computed, and printed, from the one tree.

A tree is written with Python's own operators over `Symbol` objects. It compiles once, when first called, to a
plain function of floats and to one of numpy arrays, and prints with its symbols or with numbers put in.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any, ClassVar, overload

import numpy as np
from numpy.typing import NDArray

from solver.units import Kind

Floats = NDArray[np.float64]

_SUM, _PRODUCT, _POWER, _ATOM = 1, 2, 3, 4
_SUPERSCRIPT = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")

_SCALAR = {"exp": math.exp, "log": math.log, "log10": math.log10, "sqrt": math.sqrt, "max": max, "min": min}
_ARRAY = {
    "exp": np.exp,
    "log": np.log,
    "log10": np.log10,
    "sqrt": np.sqrt,
    "max": np.maximum,
    "min": np.minimum,
}


class Node:
    """Anything a formula is made of."""

    level: ClassVar[int] = _ATOM

    def __add__(self, other: Node | float) -> Node:
        return Operation("+", self, _node(other))

    def __radd__(self, other: float) -> Node:
        return Operation("+", _node(other), self)

    def __sub__(self, other: Node | float) -> Node:
        return Operation("-", self, _node(other))

    def __rsub__(self, other: float) -> Node:
        return Operation("-", _node(other), self)

    def __mul__(self, other: Node | float) -> Node:
        return Operation("*", self, _node(other))

    def __rmul__(self, other: float) -> Node:
        return Operation("*", _node(other), self)

    def __truediv__(self, other: Node | float) -> Node:
        return Operation("/", self, _node(other))

    def __rtruediv__(self, other: float) -> Node:
        return Operation("/", _node(other), self)

    def __pow__(self, other: Node | float) -> Node:
        return Operation("**", self, _node(other))

    def __neg__(self) -> Node:
        return Negation(self)

    def __rpow__(self, other: float) -> Node:
        return Operation("**", _node(other), self)

    def code(self) -> str:
        """As Python source."""
        raise NotImplementedError

    def text(self, numbers: Mapping[str, str] | None = None) -> str:
        """As printed, each symbol replaced by its entry in `numbers` where it has one."""
        raise NotImplementedError

    def leaves(self) -> Iterator[Symbol]:
        """Every symbol in it, from left to right, with repeats."""
        return iter(())


def _node(value: Node | float) -> Node:
    return value if isinstance(value, Node) else Number(value)


def _within(node: Node, level: int, numbers: Mapping[str, str] | None, first: bool = False) -> str:
    """Printed for use inside something that binds at `level`: in brackets where it binds less.

    A negative number needs brackets too, except as the `first` thing of a sum or product.
    """
    text = node.text(numbers)
    loose = node.level < level or (text[0] in "-−" and not first)
    return f"({text})" if loose else text


@dataclass(frozen=True, eq=False)
class Number(Node):
    """A number that belongs to the formula."""

    value: float

    def code(self) -> str:
        return repr(float(self.value)) if self.value >= 0 else f"({float(self.value)!r})"

    def text(self, numbers: Mapping[str, str] | None = None) -> str:
        return f"{self.value:.15g}".replace("-", "−")


@dataclass(frozen=True, eq=False)
class Symbol(Node):
    """A quantity by its symbol. `unit` is for those whose `kind` fixes none."""

    symbol: str
    kind: Kind | None
    meaning: str
    unit: str = ""

    def code(self) -> str:
        return self.symbol

    def text(self, numbers: Mapping[str, str] | None = None) -> str:
        return (numbers or {}).get(self.symbol, self.symbol)

    def leaves(self) -> Iterator[Symbol]:
        yield self


@dataclass(frozen=True, eq=False)
class Constant(Symbol):
    """A symbol that always has one value."""

    value: float = math.nan

    def code(self) -> str:
        return repr(self.value)


@dataclass(frozen=True, eq=False)
class Operation(Node):
    """Two nodes and the operator between them."""

    operator: str
    left: Node
    right: Node

    @property
    def level(self) -> int:  # type: ignore[override] # fixed by class for the other nodes
        return {"+": _SUM, "-": _SUM, "*": _PRODUCT, "/": _PRODUCT, "**": _POWER}[self.operator]

    def code(self) -> str:
        return f"({self.left.code()} {self.operator} {self.right.code()})"

    def text(self, numbers: Mapping[str, str] | None = None) -> str:
        level = self.level
        if self.operator == "**":
            return _within(self.left, _ATOM, numbers) + self._exponent(numbers)
        # What follows a minus or a division must bind tighter than it to need no brackets.
        after = level + 1 if self.operator in "-/" else level
        sign = {"+": " + ", "-": " − ", "*": " · ", "/": "/"}[self.operator]
        return _within(self.left, level, numbers, first=True) + sign + _within(self.right, after, numbers)

    def _exponent(self, numbers: Mapping[str, str] | None) -> str:
        if isinstance(self.right, Number) and float(self.right.value).is_integer():
            return f"{self.right.value:.0f}".translate(_SUPERSCRIPT)
        return f"^{_within(self.right, _ATOM, numbers)}"

    def leaves(self) -> Iterator[Symbol]:
        yield from self.left.leaves()
        yield from self.right.leaves()


@dataclass(frozen=True, eq=False)
class Negation(Node):
    """Minus a node."""

    level: ClassVar[int] = _PRODUCT
    node: Node

    def code(self) -> str:
        return f"(-{self.node.code()})"

    def text(self, numbers: Mapping[str, str] | None = None) -> str:
        return f"−{_within(self.node, _PRODUCT, numbers)}"

    def leaves(self) -> Iterator[Symbol]:
        yield from self.node.leaves()


@dataclass(frozen=True, eq=False)
class Call(Node):
    """A function of one or two nodes."""

    function: str
    arguments: tuple[Node, ...]

    def code(self) -> str:
        return f"{self.function}({', '.join(a.code() for a in self.arguments)})"

    def text(self, numbers: Mapping[str, str] | None = None) -> str:
        inside = ", ".join(a.text(numbers) for a in self.arguments)
        if self.function == "sqrt":
            alone = self.arguments[0].level == _ATOM and "(" not in inside
            return f"√{inside}" if alone else f"√({inside})"
        return f"{'ln' if self.function == 'log' else self.function}({inside})"

    def leaves(self) -> Iterator[Symbol]:
        for argument in self.arguments:
            yield from argument.leaves()


def exp(x: Node) -> Node:
    return Call("exp", (x,))


def log(x: Node) -> Node:
    """Natural logarithm."""
    return Call("log", (x,))


def log10(x: Node) -> Node:
    return Call("log10", (x,))


def sqrt(x: Node) -> Node:
    return Call("sqrt", (x,))


def largest(x: Node | float, y: Node | float) -> Node:
    return Call("max", (_node(x), _node(y)))


def least(x: Node | float, y: Node | float) -> Node:
    return Call("min", (_node(x), _node(y)))


@dataclass(frozen=True, eq=False)
class Formula:
    """One formula: computed when called, printed by `text`.

    Call it with values in the order of `symbols`, or by their symbols: floats, or arrays that broadcast.
    `scalar` and `array` are the compiled functions themselves, for where the values' type is known.
    """

    name: str
    result: Symbol
    symbols: tuple[Symbol, ...]
    expression: Node
    source: str
    valid: str = ""

    def __post_init__(self) -> None:
        used = {leaf.symbol for leaf in self.expression.leaves() if not isinstance(leaf, Constant)}
        if used != {symbol.symbol for symbol in self.symbols}:
            raise ValueError(f"{self.name}: its symbols are not those of its expression")

    @cached_property
    def scalar(self) -> Callable[..., float]:
        return self._compiled(_SCALAR)

    @cached_property
    def array(self) -> Callable[..., Floats]:
        return self._compiled(_ARRAY)

    def _compiled(self, functions: Mapping[str, Any]) -> Callable[..., Any]:
        source = f"lambda {', '.join(s.symbol for s in self.symbols)}: {self.expression.code()}"
        compiled: Callable[..., Any] = eval(source, {"__builtins__": {}, **functions})
        return compiled

    @overload
    def __call__(self, *values: float, **named: float) -> float: ...  # type: ignore[overload-overlap] # all floats

    @overload
    def __call__(self, *values: float | Floats, **named: float | Floats) -> Floats: ...

    def __call__(self, *values: Any, **named: Any) -> Any:
        arrays = any(isinstance(v, np.ndarray) for v in (*values, *named.values()))
        return (self.array if arrays else self.scalar)(*values, **named)

    def text(self, numbers: Mapping[str, str] | None = None) -> str:
        """The right-hand side, each symbol replaced by its entry in `numbers` where it has one."""
        return self.expression.text(numbers)


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

    @overload
    def __call__(self, *values: float, **named: float) -> float: ...  # type: ignore[overload-overlap] # all floats

    @overload
    def __call__(self, *values: float | Floats, **named: float | Floats) -> Floats: ...

    def __call__(self, *values: Any, **named: Any) -> Any:
        return self.function(*values, **named)

    def text(self, numbers: Mapping[str, str] | None = None) -> str:
        """The equation, each symbol replaced by its entry in `numbers` where it has one."""
        return f"{self.left.text(numbers)} = {self.right.text(numbers)}"


Relation = Formula | Implicit
