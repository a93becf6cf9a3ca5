"""The parts behind the first page: a table of names, read without Qt, whose functions are there."""

from __future__ import annotations

import subprocess
import sys
from importlib import import_module

import pytest

from sketch.page.paper import MILLIMETRES
from sketch.page.sheet_parts import OPTIONAL, PAPERS, SHEET_PARTS, parts_of


@pytest.mark.parametrize("name", SHEET_PARTS)
def test_what_makes_a_part_is_there(name: str) -> None:
    module, _, function = SHEET_PARTS[name].blocks.partition(":")
    assert callable(getattr(import_module(module), function))


def test_optional_parts_stand_in_their_place_only_where_they_are_wanted() -> None:
    usual = parts_of(frozenset())
    assert not any(part.optional for part in usual)
    in_short = SHEET_PARTS["readings in short"]
    assert in_short in usual
    everything = parts_of(frozenset(OPTIONAL))
    assert everything == tuple(part for part in SHEET_PARTS.values() if part is not in_short)
    with pytest.raises(ValueError, match="working"):
        parts_of(frozenset(["weather"]))


def test_papers_are_those_that_can_be_written() -> None:
    assert set(PAPERS) == set(MILLIMETRES)


def test_the_table_is_read_without_qt() -> None:
    code = "import sys, sketch.page.sheet_parts; assert not any(m.startswith('PySide6') for m in sys.modules)"
    subprocess.run([sys.executable, "-c", code], check=True)
