"""What tests of a file's text ask of it."""

from __future__ import annotations

from dataclasses import replace

from solver.layout.parts import Layout
from solver.quantities import units
from solver.quantities.units import Kind


def changed_lines(old: str, new: str) -> list[tuple[str, str]]:
    """The lines that differ between two texts of as many lines, as they were and as they are."""
    before, after = old.split("\n"), new.split("\n")
    assert len(before) == len(after)
    return [pair for pair in zip(before, after, strict=True) if pair[0] != pair[1]]


def moved(layout: Layout, name: str, x: str, y: str) -> Layout:
    """The layout with a pump at another place."""
    pump = layout.pumps[name]
    at = (units.quantity(x, Kind.LENGTH), units.quantity(y, Kind.LENGTH))
    return replace(layout, pumps={**layout.pumps, name: replace(pump, at=at)})


def place(text: str, line: str) -> tuple[int, int]:
    """Line and column of the first key of a line, counted by plain search."""
    offset = text.index(line)
    return text.count("\n", 0, offset) + 1, offset - text.rfind("\n", 0, offset)
