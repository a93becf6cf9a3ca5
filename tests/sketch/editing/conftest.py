"""A line with a bend in it, to be edited."""

from __future__ import annotations

import pytest

from solver.layout import file
from solver.layout.parts import Layout
from tests.drawings import BENT


@pytest.fixture
def bent() -> Layout:
    return file.parse(BENT, "bent").base
