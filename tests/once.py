"""What takes the solver long is worked out once a run, however many tests, pages and views ask for it."""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import wraps
from inspect import signature
from typing import TypeVar

import pytest

T = TypeVar("T")


def work_out_once(patch: pytest.MonkeyPatch, *functions: Callable[..., object]) -> None:
    """Let pure functions of a drawing keep their results, in every module that knows them by now."""
    keeping = {function: _keeping(function) for function in functions}
    for module in [
        each for name, each in sys.modules.items() if name.startswith(("solver.", "sketch.", "tests."))
    ]:
        for function, kept in keeping.items():
            if vars(module).get(function.__name__) is function:
                patch.setattr(module, function.__name__, kept)


def _keeping(function: Callable[..., T]) -> Callable[..., T]:
    """A function of frozen values that is not called twice with equal ones."""
    results: list[tuple[object, T]] = []
    parameters = signature(function)

    @wraps(function)
    def kept(*given: object, **named: object) -> T:
        bound = parameters.bind(*given, **named)
        bound.apply_defaults()
        asked = bound.arguments
        for known, result in results:
            if known == asked:
                return result
        result = function(*given, **named)
        results.append((asked, result))
        return result

    return kept
