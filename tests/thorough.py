"""What every run tries of many, and what is left to the thorough run of the checks (`-m thorough`)."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

import pytest
from _pytest.mark import ParameterSet

T = TypeVar("T")


def first(values: Iterable[T], kept: int = 1) -> list[T | ParameterSet]:
    """The values for a parametrized test: the first `kept` in every run, the others in the thorough one."""
    return [
        value if place < kept else pytest.param(value, marks=pytest.mark.thorough)
        for place, value in enumerate(values)
    ]
