"""One figure for each of many variants, in the place of a single one.

A calculation written for single figures takes a `Column` as it stands: its arithmetic runs over all variants
at once. Where the calculation branches and the variants would not all go the same way, they part; where it
needs one number, as a library's function does, they part by value. `VariantsDiffer` is raised, and whoever
started the calculation starts it again with each group. So a column gives what its figures would give one by
one: how often the variants part decides how fast, never what.

The functions here take floats or columns, and cost a float next to nothing.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections import OrderedDict
from collections.abc import Callable, Mapping, Sequence
from functools import wraps
from itertools import pairwise
from typing import Any, ParamSpec, TypeVar, cast

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
P = ParamSpec("P")
R = TypeVar("R")

Figure = TypeVar("Figure", float, Floats)
"""A single figure, or one for each of many variants: a function of figures gives the sort it is given."""

Condition = bool | NDArray[np.bool_]
"""What a comparison of figures gives."""

Places = int | NDArray[np.intp]
"""A place in a sequence, or one for each of many variants."""


LATEST = 4
"""Calls with columns that are remembered, of each function."""


class VariantsDiffer(Exception):  # noqa: N818 # no error: the calculation goes on, in groups
    """Not all variants go the same way. `groups` numbers the way of each of them, from 0."""

    def __init__(self, groups: NDArray[np.intp]) -> None:
        super().__init__("the variants go different ways")
        self.groups = groups


class Column(np.ndarray[Any, np.dtype[Any]]):
    """One figure per variant. Where it is printed, it prints its first."""

    __hash__ = None  # a key would have to be one figure

    def __bool__(self) -> bool:
        array = self.view(np.ndarray)
        if array.all():
            return True
        if not array.any():
            return False
        raise VariantsDiffer((array == 0).astype(np.intp))

    def __float__(self) -> float:
        array = self.view(np.ndarray)
        first = array.flat[0]
        if not (array == first).all():
            values, groups = np.unique(array, return_inverse=True)
            if len(values) > 1:
                raise VariantsDiffer(groups.reshape(-1))
        return float(first)

    def __format__(self, spec: str) -> str:
        return format(first(self), spec)


def remembered(size: int) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """Keep the results of the last so many calls that differ.

    Of calls with a column, which is no key, the last few, for the very same columns.
    """

    def remembering(function: Callable[P, R]) -> Callable[P, R]:
        kept: OrderedDict[tuple[Any, ...], R] = OrderedDict()
        latest: OrderedDict[tuple[Any, ...], tuple[tuple[Any, ...], R]] = OrderedDict()

        @wraps(function)
        def call(*given: P.args, **named: P.kwargs) -> R:
            key = (given, *named.items()) if named else given
            try:
                return kept[key]
            except KeyError:
                pass
            except TypeError:  # a column among them, or in one of them
                return of_column((*given, *named.values()), given, named)
            result = kept[key] = function(*given, **named)
            if len(kept) > size:
                kept.popitem(last=False)
            return result

        def of_column(values: tuple[Any, ...], given: tuple[Any, ...], named: Mapping[str, Any]) -> R:
            key = tuple([value if isinstance(value, (str, float)) else (id(value),) for value in values])
            before = latest.get(key)
            if before is None:  # the values are held, so that no others get their identity
                before = latest[key] = values, cast("Callable[..., R]", function)(*given, **named)
                if len(latest) > LATEST:
                    latest.popitem(last=False)
            return before[1]

        return call

    return remembering


def column(values: Floats) -> float:
    """A column of figures [(variants,)], typed as the single figure whose place it takes.

    This is the one place where a column passes for a float: what computes with single figures need not know
    of columns.
    """
    return cast(float, values.view(Column))


def is_column(value: object) -> bool:
    """Whether a figure is a column."""
    return isinstance(value, np.ndarray)


def first(value: Figure) -> float:
    """A figure itself; of a column the first."""
    return float(value.view(np.ndarray).flat[0]) if isinstance(value, np.ndarray) else value


def as_array(value: R) -> R:
    """A figure itself; a column as numpy's own array, which is quicker on large tables."""
    return cast(R, value.view(np.ndarray)) if isinstance(value, np.ndarray) else value


def by_row(table: Floats) -> list[float]:
    """The rows of a table, (rows,) or (rows, variants), as figures or columns. One variant is one figure."""
    if table.ndim == 1 or table.shape[1] == 1:
        flat = table if table.ndim == 1 else table.reshape(len(table))
        return cast("list[float]", flat.tolist())
    return list(table.view(Column))


def table(values: Sequence[float | Floats | None]) -> Floats:
    """Figures as (rows,), or where there is a column among them as (rows, variants). None is nan."""
    columns: dict[int, tuple[Any, list[int]]] = {}
    for i, value in enumerate(values):
        if isinstance(value, np.ndarray):
            columns.setdefault(id(value), (value, []))[1].append(i)
    if not columns:
        return np.array(values, dtype=np.float64)
    shape = len(values), max(len(column) for column, _ in columns.values())
    if len(columns) == 1:
        ((column, rows),) = columns.values()
        if len(rows) == len(values):
            return np.broadcast_to(np.asarray(column), shape)
    rows_by_variant = np.empty(shape)
    single = [i for i, value in enumerate(values) if not isinstance(value, np.ndarray)]
    rows_by_variant[single] = np.array([values[i] for i in single], dtype=np.float64)[:, None]
    for column, rows in columns.values():
        rows_by_variant[rows] = column
    return rows_by_variant


def aligned(tables: Sequence[Floats], values: Sequence[float]) -> list[Floats]:
    """Tables side by side: each (rows,) becomes (rows, 1) once one of them, or of the values, is a column."""
    wide = [t for t in tables if t.ndim == 2]
    if not wide and not any(map(is_column, values)):
        return list(tables)
    return [t[:, None] if t.ndim == 1 else t for t in tables]


def total(table: Floats) -> float:
    """The sum over the rows."""
    return _over_rows(np.asarray(table).sum(axis=0))


def running_total(table: Floats) -> Floats:
    """Running sums over the rows."""
    if table.ndim == 1:
        return table.cumsum()
    sums = np.array(table)
    for above, below in pairwise(sums):  # several times as quick as numpy's own along this axis
        below += above
    return sums


def lowest(table: Floats) -> float:
    """The least over the rows."""
    return _over_rows(np.asarray(table).min(axis=0))


def _over_rows(values: Any) -> float:
    return column(values) if values.ndim else float(values)


def agreed(condition: NDArray[np.bool_]) -> list[bool]:
    """Whether a condition holds in each row of (rows,) or (rows, variants).

    Raises VariantsDiffer where the variants do not agree on a row.
    """
    if condition.ndim == 1:
        return cast("list[bool]", condition.tolist())
    every = condition.all(axis=1)
    mixed = np.flatnonzero(every != condition.any(axis=1))
    if mixed.size:
        raise VariantsDiffer((~condition[mixed[0]]).astype(np.intp))
    return cast("list[bool]", every.tolist())


def collapsed(value: float) -> float:
    """A figure itself; a column whose figures are all the same as that figure."""
    return first(value) if is_column(value) and every(value == first(value)) else value


def each(function: Callable[..., float], *values: float) -> float:
    """Call a function that takes single figures alone for each variant in turn."""
    if not any(map(is_column, values)):
        return function(*values)
    rows = zip(*(np.asarray(row).tolist() for row in np.broadcast_arrays(*values)), strict=True)
    return column(np.array([function(*row) for row in rows]))


def choose(condition: Condition, yes: float, no: float) -> float:
    """One of two figures, for each variant its own."""
    if isinstance(condition, np.ndarray):
        return column(np.where(condition, yes, no))
    return yes if condition else no


def every(condition: Condition) -> bool:
    """Whether a condition holds, for a column whether it holds for each of its variants."""
    return bool(condition.all()) if isinstance(condition, np.ndarray) else condition


def some(condition: Condition) -> bool:
    """Whether a condition holds, for a column whether it holds for any of its variants."""
    return bool(condition.any()) if isinstance(condition, np.ndarray) else condition


def isnan(x: Figure) -> Condition:
    """Whether a figure is not a number, for a column variant by variant."""
    return np.isnan(x) if isinstance(x, np.ndarray) else math.isnan(x)


def exp(x: Figure) -> Figure:
    """e to that power."""
    return np.exp(x) if isinstance(x, np.ndarray) else math.exp(x)


def log(x: Figure) -> Figure:
    """Natural logarithm."""
    return np.log(x) if isinstance(x, np.ndarray) else math.log(x)


def log10(x: Figure) -> Figure:
    """Logarithm to base 10."""
    return np.log10(x) if isinstance(x, np.ndarray) else math.log10(x)


def sqrt(x: Figure) -> Figure:
    """Square root."""
    return np.sqrt(x) if isinstance(x, np.ndarray) else math.sqrt(x)


def sin(x: Figure) -> Figure:
    """Sine of an angle [rad]."""
    return np.sin(x) if isinstance(x, np.ndarray) else math.sin(x)


def cos(x: Figure) -> Figure:
    """Cosine of an angle [rad]."""
    return np.cos(x) if isinstance(x, np.ndarray) else math.cos(x)


def tan(x: Figure) -> Figure:
    """Tangent of an angle [rad]."""
    return np.tan(x) if isinstance(x, np.ndarray) else math.tan(x)


def atan(x: Figure) -> Figure:
    """Angle of a tangent [rad]."""
    return np.arctan(x) if isinstance(x, np.ndarray) else math.atan(x)


def hypot(x: Figure, y: Figure) -> Figure:
    """Length of the hypotenuse over two legs."""
    if isinstance(x, np.ndarray) or isinstance(y, np.ndarray):
        return np.hypot(x, y)
    return math.hypot(x, y)


def atan2(y: Figure, x: Figure) -> Figure:
    """Angle of the direction to (x, y) from the x axis [rad]."""
    if isinstance(y, np.ndarray) or isinstance(x, np.ndarray):
        return np.arctan2(y, x)
    return math.atan2(y, x)


def largest(x: Figure, y: Figure) -> Figure:
    """The larger one; of one column with itself that column, by which results are remembered."""
    if x is y:
        return x
    return np.maximum(x, y) if _columns(x, y) else max(x, y)


def least(x: Figure, y: Figure) -> Figure:
    """The smaller one; of one column with itself that column."""
    if x is y:
        return x
    return np.minimum(x, y) if _columns(x, y) else min(x, y)


def _columns(x: Figure, y: Figure) -> bool:
    return isinstance(x, np.ndarray) or isinstance(y, np.ndarray)


def bisect(nodes: Sequence[float], x: float | Floats) -> Places:
    """How many of some nodes, in rising order, are not above a figure, or above each figure of a column."""
    if isinstance(x, np.ndarray):
        return np.searchsorted(np.asarray(nodes), x.view(np.ndarray), side="right")
    return bisect_right(nodes, x)


def pick(values: Sequence[float], at: Places) -> float:
    """The value at a place, or for a column of places a column of values."""
    return column(np.asarray(values)[at]) if isinstance(at, np.ndarray) else values[at]
