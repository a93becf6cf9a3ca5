"""The trees that formulas are made of, written with Python's own operators over `Symbol` objects.

A tree is turned into Python source to be computed, and written with its symbols or with numbers put in.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import ClassVar

from solver.quantities.units import Kind

_SUM, _PRODUCT, _POWER, _ATOM = 1, 2, 3, 4
_JOINTS = frozenset(" ·\N{NO-BREAK SPACE}")  # between the words of a number: its unit, or a power of ten
_UNIT_LAST = re.compile("[A-Za-z%][⁻⁰¹²³⁴⁵⁶⁷⁸⁹]*$")
_SUPERSCRIPT = str.maketrans("-−0123456789", "⁻⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


def superscript(whole: int | str) -> str:
    """A whole number as an exponent."""
    return str(whole).translate(_SUPERSCRIPT)


_UNSEEN = '<span style="font-size: 2px; color: transparent">{}</span>'


class Notation:
    """How a formula is written, as plain text. `gap` stands between a number and its unit."""

    def __init__(self, gap: str = " ") -> None:
        self.gap = gap

    def symbol(self, symbol: Symbol) -> str:
        """A symbol: "p_v,rated"."""
        return symbol.printed or symbol.symbol

    def power(self, base: str, exponent: str, bracketed: str) -> str:
        """A power whose exponent is no whole number. `bracketed` is the same exponent, in brackets where it
        is of several things."""
        return f"{base}^{bracketed}"


class HtmlNotation(Notation):
    """How a formula is written in HTML: italic symbols, subscripts and raised exponents."""

    def symbol(self, symbol: Symbol) -> str:
        base, _, below = (symbol.printed or symbol.symbol).partition("_")
        letter = f"<i>{base}</i>" if len(base.lstrip("Δ")) == 1 else base
        return f"{letter}<sub>{below}</sub>" if below else letter

    def power(self, base: str, exponent: str, bracketed: str) -> str:
        # What is copied as plain text must not turn 2 to the 0.3 into 20.3.
        before, after = ("^(", ")") if bracketed != exponent else ("^", "")
        end = f"{_UNSEEN.format(after)}" if after else ""
        return f"{base}{_UNSEEN.format(before)}<sup>{exponent}</sup>{end}"


PLAIN = Notation()
UNBROKEN = Notation("\N{NO-BREAK SPACE}")
HTML = HtmlNotation("\N{NO-BREAK SPACE}")

Numbers = Mapping[str, str]
"""What to write in a symbol's place, by symbol."""


class Node:
    """Anything a formula is made of."""

    level: ClassVar[int] = _ATOM

    def __add__(self, other: Node | float) -> Node:
        return Operation("+", self, node(other))

    def __radd__(self, other: float) -> Node:
        return Operation("+", node(other), self)

    def __sub__(self, other: Node | float) -> Node:
        return Operation("-", self, node(other))

    def __rsub__(self, other: float) -> Node:
        return Operation("-", node(other), self)

    def __mul__(self, other: Node | float) -> Node:
        return Operation("*", self, node(other))

    def __rmul__(self, other: float) -> Node:
        return Operation("*", node(other), self)

    def __truediv__(self, other: Node | float) -> Node:
        return Operation("/", self, node(other))

    def __rtruediv__(self, other: float) -> Node:
        return Operation("/", node(other), self)

    def __pow__(self, other: Node | float) -> Node:
        return Operation("**", self, node(other))

    def __neg__(self) -> Node:
        return Negation(self)

    def __rpow__(self, other: float) -> Node:
        return Operation("**", node(other), self)

    def code(self) -> str:
        """Python source of the expression, every symbol and constant by its name."""
        raise NotImplementedError

    def text(self, numbers: Numbers | None = None, notation: Notation = PLAIN) -> str:
        """The expression in writing, each symbol replaced by its entry in `numbers` where it has one."""
        raise NotImplementedError

    def leaves(self) -> Iterator[Symbol]:
        """Every symbol in it, from left to right, with repeats."""
        return iter(())


def node(value: Node | float) -> Node:
    """A node as it is; a number as a node."""
    return value if isinstance(value, Node) else Number(value)


def _within(inner: Node, level: int, numbers: Numbers | None, notation: Notation, first: bool = False) -> str:
    """Written for use inside something that binds at `level`: in brackets where it binds less.

    A negative number needs brackets too, except as the `first` thing of a sum or product; and so does a
    number of several words (with its unit, or a power of ten) where it is raised or divided by.
    """
    text = inner.text(numbers, notation)
    binds = inner.level
    if (
        isinstance(inner, Symbol)
        and numbers
        and inner.symbol in numbers
        and set(text) & set(" ·\N{NO-BREAK SPACE}")
    ):
        binds = _PRODUCT
    loose = binds < level or (text[0] in "-−" and not first)
    return f"({text})" if loose else text


@dataclass(frozen=True, eq=False)
class Number(Node):
    """A number that belongs to the formula."""

    value: float

    def code(self) -> str:
        return repr(float(self.value)) if self.value >= 0 else f"({float(self.value)!r})"

    def text(self, numbers: Numbers | None = None, notation: Notation = PLAIN) -> str:
        mantissa, _, exponent = f"{self.value:.15g}".replace("-", "−").partition("e")
        if not exponent:
            return mantissa
        power = "10" + superscript(exponent.lstrip("+").replace("−0", "−").lstrip("0"))
        return power if mantissa == "1" else f"{mantissa}·{power}"


@dataclass(frozen=True, eq=False)
class Symbol(Node):
    """A quantity by its symbol. `unit` is for those whose `kind` fixes none, `printed` for one whose name
    in Python is not how the field writes it."""

    symbol: str
    kind: Kind | None
    meaning: str
    unit: str = ""
    printed: str = field(default="", kw_only=True)

    def code(self) -> str:
        return self.symbol

    def text(self, numbers: Numbers | None = None, notation: Notation = PLAIN) -> str:
        return (numbers or {}).get(self.symbol) or notation.symbol(self)

    def leaves(self) -> Iterator[Symbol]:
        yield self

    def marked(self, index: str, meaning: str) -> Symbol:
        """The symbol with one more index, for another figure of its kind."""
        printed = self.printed or self.symbol
        joined = f"{printed}{',' if '_' in printed else '_'}{index}"
        return Symbol(f"{self.symbol}_{index}", self.kind, meaning, self.unit, printed=joined)


@dataclass(frozen=True, eq=False)
class Constant(Symbol):
    """A symbol that always has one value. `us` is its unit in US customary, and what one `unit` is in it."""

    value: float = field(kw_only=True)
    us: tuple[str, float] | None = field(default=None, kw_only=True)


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

    def text(self, numbers: Numbers | None = None, notation: Notation = PLAIN) -> str:
        level = self.level
        if self.operator == "**":
            return self._power(numbers, notation)
        # What follows a minus or a division must bind tighter than it to need no brackets.
        after = level + 1 if self.operator in "-/" else level
        left = _within(self.left, level, numbers, notation, first=True)
        right = _within(self.right, after, numbers, notation)
        # A slash after a unit must not be read as part of it.
        divided = " / " if numbers and _UNIT_LAST.search(left) else "/"
        sign = {"+": " + ", "-": " − ", "*": " · ", "/": divided}[self.operator]
        return left + sign + right

    def _power(self, numbers: Numbers | None, notation: Notation) -> str:
        base = _within(self.left, _ATOM, numbers, notation)
        if isinstance(self.right, Number) and float(self.right.value).is_integer():
            return base + superscript(f"{self.right.value:.0f}")
        return notation.power(
            base, self.right.text(numbers, notation), _within(self.right, _ATOM, numbers, notation)
        )

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

    def text(self, numbers: Numbers | None = None, notation: Notation = PLAIN) -> str:
        return f"−{_within(self.node, _PRODUCT, numbers, notation)}"

    def leaves(self) -> Iterator[Symbol]:
        yield from self.node.leaves()


_WRITTEN = {"log": "ln", "atan": "arctan"}
"""Functions that are written by another name than they are called by."""


@dataclass(frozen=True, eq=False)
class Call(Node):
    """A function of one or two nodes."""

    function: str
    arguments: tuple[Node, ...]

    def code(self) -> str:
        return f"{self.function}({', '.join(a.code() for a in self.arguments)})"

    def text(self, numbers: Numbers | None = None, notation: Notation = PLAIN) -> str:
        inside = ", ".join(a.text(numbers, notation) for a in self.arguments)
        if self.function == "sqrt":
            alone = self.arguments[0].level == _ATOM and not set(inside) & {"(", *_JOINTS}
            return f"√{inside}" if alone else f"√({inside})"
        return f"{_WRITTEN.get(self.function, self.function)}({inside})"

    def leaves(self) -> Iterator[Symbol]:
        for argument in self.arguments:
            yield from argument.leaves()


def exp(x: Node) -> Node:
    """e to the power of x."""
    return Call("exp", (x,))


def log(x: Node) -> Node:
    """Natural logarithm."""
    return Call("log", (x,))


def log10(x: Node) -> Node:
    """Logarithm to base 10."""
    return Call("log10", (x,))


def sqrt(x: Node) -> Node:
    """Square root."""
    return Call("sqrt", (x,))


def sin(x: Node) -> Node:
    """Sine of an angle in radians."""
    return Call("sin", (x,))


def tan(x: Node) -> Node:
    """Tangent of an angle in radians."""
    return Call("tan", (x,))


def atan(x: Node) -> Node:
    """Angle of a tangent [rad]."""
    return Call("atan", (x,))


def largest(x: Node | float, y: Node | float) -> Node:
    """The larger of two."""
    return Call("max", (node(x), node(y)))


def least(x: Node | float, y: Node | float) -> Node:
    """The smaller of two."""
    return Call("min", (node(x), node(y)))


def reduced(tree: Node, known: Mapping[str, float]) -> Node:
    """The tree with symbols that are known to be 0 or 1 put in, and what then counts for nothing left out."""
    if isinstance(tree, Symbol):
        return Number(known[tree.symbol]) if tree.symbol in known else tree
    if isinstance(tree, Negation):
        inner = reduced(tree.node, known)
        return Number(0.0) if _is(inner, 0) else Negation(inner)
    if isinstance(tree, Call):
        return Call(tree.function, tuple(reduced(argument, known) for argument in tree.arguments))
    if isinstance(tree, Operation):
        return _shortened(tree.operator, reduced(tree.left, known), reduced(tree.right, known))
    return tree


def renamed(tree: Node, symbols: Mapping[Symbol, Symbol]) -> Node:
    """The tree with other symbols in the place of some."""
    if isinstance(tree, Symbol):
        return symbols.get(tree, tree)
    if isinstance(tree, Negation):
        return Negation(renamed(tree.node, symbols))
    if isinstance(tree, Call):
        return Call(tree.function, tuple(renamed(argument, symbols) for argument in tree.arguments))
    if isinstance(tree, Operation):
        return Operation(tree.operator, renamed(tree.left, symbols), renamed(tree.right, symbols))
    return tree


def _is(tree: Node, value: float) -> bool:
    return isinstance(tree, Number) and tree.value == value


def _shortened(operator: str, left: Node, right: Node) -> Node:
    if operator == "+" and (_is(left, 0) or _is(right, 0)):
        return right if _is(left, 0) else left
    if operator == "-" and _is(right, 0):
        return left
    if operator == "-" and _is(left, 0):
        return Negation(right)
    if operator == "*" and (_is(left, 0) or _is(right, 0)):
        return Number(0.0)
    if operator == "*" and (_is(left, 1) or _is(right, 1)):
        return right if _is(left, 1) else left
    if operator == "/" and (_is(left, 0) or _is(right, 1)):
        return left
    if operator == "**" and (_is(left, 0) or _is(left, 1)):
        return left
    return Operation(operator, left, right)
