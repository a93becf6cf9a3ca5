"""What every run tries of many, and what is left to the thorough run of the checks (`-m thorough`)."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

import pytest
from _pytest.mark import ParameterSet

T = TypeVar("T")


def first(values: Iterable[T], kept: int = 1) -> list[T | ParameterSet]:
    """The values for a parametrized test: the first `kept` in every run, the others in the thorough one."""
    return [value if place < kept else _thorough(value) for place, value in enumerate(values)]


def one_in(step: int, values: Iterable[T], *, several: bool = False) -> list[T | ParameterSet]:
    """The values for a parametrized test: one of so many in every run, the others in the thorough one.

    several: whether each is a tuple of values for several names.
    """
    return [value if place % step == 0 else _thorough(value, several) for place, value in enumerate(values)]


def _thorough(value: object, several: bool = False) -> ParameterSet:
    if isinstance(value, ParameterSet):  # which has its marks already
        return value
    values = value if several and isinstance(value, tuple) else (value,)
    return pytest.param(*values, marks=pytest.mark.thorough)
