"""Every layout of the example files, and a layout written and read again."""

from __future__ import annotations

from pathlib import Path

from solver.layout import file
from solver.layout.file import Drawing
from solver.layout.parts import Layout


def drawn(path: Path) -> list[Layout]:
    """The drawing in a file and its alternatives."""
    drawing = file.read(path)
    return [drawing.base, *(each.layout for each in drawing.alternatives.values())]


def reread(layout: Layout) -> Layout:
    """The layout after a round trip through a file of its own."""
    return file.parse(file.write(Drawing(layout, {}, "")), "again").base
