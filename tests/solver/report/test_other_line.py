"""When a second file is no revision of the first, but another machine."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.layout import file
from solver.report.other_line import other_line
from tests.drawings import SHIPPED

DRAWINGS = {path.stem: file.read(path) for path in SHIPPED}
HEADER, WINTER = (DRAWINGS[name].base for name in ("header-two-pumps", "winter-press"))


@pytest.mark.parametrize("name", DRAWINGS)
def test_a_drawing_and_its_alternatives_that_keep_its_parts_are_one_line(name: str) -> None:
    base = DRAWINGS[name].base
    assert other_line(base, base) == ""


def test_two_machines_share_no_pump() -> None:
    assert other_line(WINTER, HEADER).startswith("no pump has one name in both, and 0 of ")
    assert other_line(HEADER, WINTER).startswith("no pump has one name in both, and 0 of ")


def test_with_a_pump_in_common_it_is_as_many_parts_as_both_have() -> None:
    parts = 4 + len(HEADER.pumps) + len(HEADER.intakes) + len(HEADER.fittings) + len(HEADER.tees)
    assert len(HEADER.runs) == 4
    renamed = {f"new {name}": replace(run, name=f"new {name}") for name, run in HEADER.runs.items()}
    half = replace(HEADER, runs=renamed)
    assert other_line(HEADER, half) == "", "five of nine"
    less = replace(half, fittings={}, tees={})
    assert other_line(HEADER, less) == f"3 of {parts} parts have one name and kind in both"
    smaller = replace(HEADER, pumps={"main": HEADER.pumps["main"]})
    assert other_line(HEADER, smaller) == "", "a revision may take a pump away"
