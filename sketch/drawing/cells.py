"""Cells of a grid of the sheet as a value, to be kept from frame to frame with what takes them."""

from __future__ import annotations

from sketch.drawing.labels import Grid, LabelPlace

Cells = tuple[tuple[int, int], ...]
"""Rows of a grid, and their columns as bits."""


def blank(grid: Grid) -> Grid:
    """A grid of the size of another, with nothing in it."""
    other = Grid(0.0, 0.0, grid.cell)
    other.columns, other.rows = grid.columns, [0] * len(grid.rows)
    return other


def blocked(grid: Grid) -> Cells:
    """The cells of a grid that are not free."""
    return tuple([(row, mask) for row, mask in enumerate(grid.rows) if mask])


def block(grid: Grid, cells: Cells) -> None:
    """Block cells of a grid of the same size."""
    rows = grid.rows
    for row, mask in cells:
        rows[row] |= mask


def cells_of(place: LabelPlace, grid: Grid) -> Cells:
    """The cells that a label and its leader block."""
    alone = blank(grid)
    alone.block(place.box)
    if place.leader is not None:
        alone.block_line(place.leader)
    return blocked(alone)
