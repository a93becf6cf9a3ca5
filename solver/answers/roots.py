"""Where a margin first reaches zero: a bracketed root on a function that may refuse."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

Function = Callable[[float], float]
"""Raises ValueError where it has no value."""

MOST_STEPS = 100


@dataclass(frozen=True, slots=True)
class Crossing:
    """Where a function first changes sign on the way from one place to another."""

    at: float  # the root; without one, the farthest place reached
    found: bool
    refused: ValueError | None = None  # why the way ended before its end, if it did


def crossing(
    function: Function, start: float, end: float, first: float, tolerance: float, enough: float
) -> Crossing:
    """Look for a change of sign from `start` towards `end`.

    Parameters: `function`, which has a value at `start`; `first`, length of the first step, doubled from
    step to step; `tolerance` of the root, in units of `start`; `enough`, the value that counts as zero.
    Where the function refuses, the way ends at the last place that it accepts, to within the tolerance.
    Raises ArithmeticError where the function is not a number within the bracket.
    """
    near, value = start, function(start)
    if value == 0 or start == end:
        return Crossing(start, value == 0)
    step = abs(first)
    while True:
        far = min(near + step, end) if end > start else max(near - step, end)
        try:
            beyond = function(far)
        except ValueError as error:
            far, beyond, refused = _last_accepted(function, (near, value), (far, error), tolerance)
            if beyond * value > 0:
                return Crossing(far, False, refused)
        if beyond * value <= 0:
            return _between(function, (near, value), (far, beyond), tolerance, enough)
        if far == end:
            return Crossing(end, False)
        near, value, step = far, beyond, step * 2


class _RefusalError(ValueError):
    """The function has no value at `place`."""

    def __init__(self, place: float, why: ValueError) -> None:
        super().__init__(str(why))
        self.place, self.why = place, why


def _between(
    function: Function, near: tuple[float, float], far: tuple[float, float], tolerance: float, enough: float
) -> Crossing:
    """The root in a bracket; where the function refuses within it, the last place before that."""

    def watched(x: float) -> float:
        try:
            return function(x)
        except ValueError as error:
            raise _RefusalError(x, error) from error

    while True:
        try:
            return Crossing(_root(watched, near, far, tolerance, enough), True)
        except _RefusalError as hole:
            at, value, refused = _last_accepted(function, near, (hole.place, hole.why), tolerance)
            if value * near[1] > 0:
                return Crossing(at, False, refused)
            far = at, value


def _last_accepted(
    function: Function, accepted: tuple[float, float], refused: tuple[float, ValueError], tolerance: float
) -> tuple[float, float, ValueError]:
    """Halve the way to a refusal until it is known to within the tolerance, or the sign has changed.

    Returns the last place that was accepted, its value, and why the next one was refused: that may be another
    reason than the one farther on.
    """
    (near, value), (beyond, why) = accepted, refused
    while abs(beyond - near) > tolerance and value != 0:
        middle = (near + beyond) / 2
        try:
            at_middle = function(middle)
        except ValueError as error:
            beyond, why = middle, error
            continue
        if at_middle * value <= 0:
            return middle, at_middle, why
        near, value = middle, at_middle
    return near, value, why


def _root(
    function: Function, a: tuple[float, float], b: tuple[float, float], tolerance: float, enough: float
) -> float:
    """False position after Dowell and Jarratt (1971, "Illinois"), between two points of opposite sign."""
    (near, at_near), (far, at_far) = a, b
    stayed = 0
    for _ in range(MOST_STEPS):
        middle = near + (far - near) * at_near / (at_near - at_far)
        at_middle = function(middle)
        if abs(at_middle) <= enough or abs(far - near) <= tolerance:
            return middle
        if (at_middle > 0) == (at_near > 0):
            near, at_near = middle, at_middle
            at_far, stayed = (at_far / 2, 1) if stayed == 1 else (at_far, 1)
        else:
            far, at_far = middle, at_middle
            at_near, stayed = (at_near / 2, -1) if stayed == -1 else (at_near, -1)
    return _halved(function, (near, at_near), (far, at_far), tolerance, enough)


def _halved(
    function: Function, a: tuple[float, float], b: tuple[float, float], tolerance: float, enough: float
) -> float:
    """Bisection, for a bracket whose ends are too unlike for a secant: it takes as many steps as a float
    has digits at most. Parameters and result as `_root`. Raises ArithmeticError where there is no figure."""
    (near, at_near), (far, _) = a, b
    while True:
        middle = (near + far) / 2
        at_middle = function(middle)
        if abs(at_middle) <= enough or abs(far - near) <= tolerance or middle in (near, far):
            return middle
        if at_middle != at_middle:
            raise ArithmeticError(f"no figure at {middle:.6g}")
        if (at_middle > 0) == (at_near > 0):
            near = middle
        else:
            far = middle
