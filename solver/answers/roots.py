"""Where a margin first reaches zero: a bracketed root on a function that may refuse."""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

Function = Callable[[float], float]
"""Raises ValueError where it has no value."""

Simpler = Callable[[float], Function]

AHEAD = 1.2
"""Of the way that seems to be left to a change of sign: a step that goes just beyond it brackets it."""

STEPS_BACK = 10
"""From the side of a root that is over, each twice the one before."""

MOST_LOOKS = 60
"""Before a bracket is halved until no figure is left between its ends."""


@dataclass(frozen=True, slots=True)
class Crossing:
    """Where a function first changes sign on the way from one place to another."""

    at: float  # the root; without one, the farthest place reached
    found: bool
    refused: ValueError | None = None  # why the way ended before its end, if it did


def crossing(
    function: Function,
    start: float,
    end: float,
    first: float,
    tolerance: float,
    enough: float,
    simpler: Simpler | None = None,
    edges: Sequence[float] = (),
) -> Crossing:
    """Look for a change of sign from `start` towards `end`.

    Parameters: `function`, which has a value at `start`; `first`, length of the first step, each of the next
    at most twice as long; `tolerance` of the root, in units of `start`; `enough`, the value that counts as
    zero; `simpler`, a cheaper function that has the function's value at a place, and is looked at in its
    stead; `edges`, where the function is likely to refuse.
    Where the function refuses, the way ends at the last place that it accepts, to within the tolerance.
    Raises ArithmeticError where the function is not a number within the bracket.
    """
    value = function(start)
    if value == 0 or start == end:
        return Crossing(start, value == 0)
    looked_at = function if simpler is None else simpler(start)
    way, step = [(start, value)], abs(first)
    while True:
        near = way[-1]
        far = min(near[0] + step, end) if end > start else max(near[0] - step, end)
        try:
            beyond = looked_at(far)
            if simpler is not None and (beyond * value <= 0 or abs(beyond) <= enough):
                root = _root_of_both(function, looked_at, near, (far, beyond), tolerance, enough)
                if root is not None:
                    return Crossing(root, found=True)
            if simpler is not None and (beyond * value <= 0 or far == end):
                beyond, looked_at = function(far), simpler(far)
        except ValueError as error:
            tried = tuple(
                x for edge in edges for x in (edge, edge + math.copysign(tolerance / 2, end - start))
            )
            far, beyond, refused = _accepted_by_both(
                function, looked_at, near, (far, error), tolerance, tried
            )
            if beyond * value > 0:
                return Crossing(far, found=False, refused=refused)
        if beyond * value <= 0:
            return _between(function, *_bracket(function, way, (far, beyond)), tolerance, enough, simpler)
        if far == end:
            return Crossing(end, found=False)
        way.append((far, beyond))
        step = min(max(AHEAD * _distance(*way[-2:]), step / 4), 2 * step)


def with_some_left(function: Function, reached: Crossing, start: float, tolerance: float) -> Crossing:
    """A root that was found, moved to where the function is not below zero, so that what is said to be within
    is so: a search may end on either side.

    Parameters as `crossing`. As lengths are drawn to 0.1 mm the function may fall by steps.
    """
    if not reached.found or function(reached.at) >= 0:
        return reached
    back = start - reached.at if function(start) >= 0 else reached.at - start
    step = math.copysign(tolerance / 16, back)
    for at in (reached.at + step * (2**i - 1) for i in range(1, STEPS_BACK)):
        try:
            if function(at) >= 0:
                return replace(reached, at=at)
        except ValueError:
            break
    return reached


def _distance(before: tuple[float, float], last: tuple[float, float]) -> float:
    """From the last of two places on to where a straight line through both is zero; infinite if nowhere."""
    fallen = before[1] - last[1]
    return abs(last[0] - before[0]) * last[1] / fallen if fallen * last[1] > 0 else math.inf


def _root_of_both(
    function: Function,
    simpler: Function,
    near: tuple[float, float],
    far: tuple[float, float],
    tolerance: float,
    enough: float,
) -> float | None:
    """The root of the simpler function in a bracket, where it is the function's own as well."""
    try:
        root = _root(simpler, near, far, tolerance, enough)
        return root if abs(function(root)) <= enough else None
    except (ValueError, ArithmeticError):
        return None


def _bracket(
    function: Function, way: list[tuple[float, float]], far: tuple[float, float]
) -> tuple[tuple[float, float], tuple[float, float]]:
    """The first of the steps of a way within which the function itself changes its sign."""
    while len(way) > 1:
        place, _ = way.pop()
        value = function(place)
        if value * far[1] <= 0:
            return (place, value), far
        far = place, value
    return way[0], far


def _accepted_by_both(
    function: Function,
    simpler: Function,
    accepted: tuple[float, float],
    refused: tuple[float, ValueError],
    tolerance: float,
    tried: Sequence[float],
) -> tuple[float, float, ValueError]:
    """Where the simpler function refuses first, or the function itself does where that is less far."""
    if simpler is not function:
        place, _, why = _last_accepted(simpler, accepted, refused, tolerance, tried)
        try:
            return place, function(place), why
        except ValueError as error:
            refused = place, error
    return _last_accepted(function, accepted, refused, tolerance, tried)


class _RefusalError(ValueError):
    """The function has no value at `place`."""

    def __init__(self, place: float, why: ValueError) -> None:
        super().__init__(str(why))
        self.place, self.why = place, why


def _between(
    function: Function,
    near: tuple[float, float],
    far: tuple[float, float],
    tolerance: float,
    enough: float,
    simpler: Simpler | None,
) -> Crossing:
    """The root in a bracket; where the function refuses within it, the last place before that."""
    while True:
        below = near[0] if near[1] < 0 else far[0]
        try:
            looked_at = _watched(function if simpler is None else simpler(below))
            root = _root(looked_at, near, far, tolerance, enough)
            if simpler is None:
                return Crossing(root, found=True)
            value = _watched(function)(root)
        except _RefusalError as hole:
            at, value, refused = _last_accepted(function, near, (hole.place, hole.why), tolerance)
            if value * near[1] > 0:
                return Crossing(at, found=False, refused=refused)
            far = at, value
            continue
        if abs(value) <= enough or abs(far[0] - near[0]) <= tolerance or root in (near[0], far[0]):
            return Crossing(root, found=True)
        near, far = ((root, value), far) if value * near[1] > 0 else (near, (root, value))


def _watched(function: Function) -> Function:
    """The function, a refusal of which names its place."""

    def call(x: float) -> float:
        try:
            return function(x)
        except ValueError as error:
            raise _RefusalError(x, error) from error

    return call


def _last_accepted(
    function: Function,
    accepted: tuple[float, float],
    refused: tuple[float, ValueError],
    tolerance: float,
    tried: Sequence[float] = (),
) -> tuple[float, float, ValueError]:
    """Halve the way to a refusal until it is known to within the tolerance, or the sign has changed.

    tried: places looked at before any is halved. Returns the last place that was accepted, its value, and why
    the next one was refused: that may be another reason than the one farther on. It forgets where it was
    raised, for that holds all that was solved on the way.
    """
    (near, value), (beyond, why) = accepted, refused
    likely = deque(tried)
    while abs(beyond - near) > tolerance and value != 0:
        middle = likely.popleft() if likely else (near + beyond) / 2
        if not min(near, beyond) < middle < max(near, beyond):
            continue
        try:
            at_middle = function(middle)
        except ValueError as error:
            beyond, why = middle, error
            continue
        if at_middle * value <= 0:
            return middle, at_middle, why.with_traceback(None)
        near, value = middle, at_middle
    return near, value, why.with_traceback(None)


def _root(
    function: Function, a: tuple[float, float], b: tuple[float, float], tolerance: float, enough: float
) -> float:
    """Root between two points of opposite sign, by inverse quadratic interpolation or halving.

    Source: Chandrupatla, T. R. (1997), Adv. Eng. Software 28, 145-149. Raises ArithmeticError where there is
    no figure.
    """
    (x1, f1), (x2, f2) = b, a
    if abs(f1) <= enough or f2 == 0:  # an end that is the root has no sign to go by
        return x1 if abs(f1) <= enough else x2
    share, looks = f1 / (f1 - f2), 0
    while True:
        least = min(tolerance / abs(x2 - x1), 0.5)
        looks += 1
        share = min(max(share, least), 1.0 - least) if looks < MOST_LOOKS else 0.5
        x = x1 + share * (x2 - x1)
        value = function(x)
        if abs(value) <= enough or abs(x2 - x1) <= tolerance or x in (x1, x2):
            return x
        if value != value:
            raise ArithmeticError(f"no figure at {x:.6g}")
        if (value > 0) == (f1 > 0):
            x3, f3 = x1, f1
        else:
            x3, f3, x2, f2 = x2, f2, x1, f1
        x1, f1 = x, value
        xi, phi = (x1 - x2) / (x3 - x2), (f1 - f2) / (f3 - f2)
        safe = phi * phi < xi and (1.0 - phi) * (1.0 - phi) < 1.0 - xi
        share = (
            f1 / (f2 - f1) * f3 / (f2 - f3) + (x3 - x1) / (x2 - x1) * f1 / (f3 - f1) * f2 / (f3 - f2)
            if safe
            else 0.5
        )
