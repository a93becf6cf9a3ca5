"""Cells of a grid of the sheet as a value, to be kept from frame to frame with what takes them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sketch.drawing.labels import XY, Box, Grid, LabelPlace

Cells = tuple[tuple[int, int], ...]
"""Rows of a grid from the top down, and their columns as bits."""


def block(grid: Grid, cells: Cells) -> None:
    """Block cells of a grid of the same size."""
    rows = grid.rows
    for row, mask in cells:
        rows[row] |= mask


def cells_of(place: LabelPlace, grid: Grid) -> Cells:
    """The cells that a label and its leader block."""
    if place.leader is None:
        return cells_of_box(place.box, grid)
    return merged(cells_of_box(place.box, grid), cells_of_line(place.leader, 0.0, grid))


def cells_of_box(box: Box, grid: Grid) -> Cells:
    """The cells that a box blocks."""
    rows, mask = grid.box_cells(box)
    return tuple([(row, mask) for row in rows]) if mask else ()


def cells_of_line(points: Sequence[XY], width: float, grid: Grid) -> Cells:
    """The cells that a line of that width blocks."""
    return merged((row, mask) for rows, mask in grid.line_cells(points, width) for row in rows)


def merged(*cells: Iterable[tuple[int, int]]) -> Cells:
    """The cells of several, each row once."""
    masks: dict[int, int] = {}
    for each in cells:
        for row, mask in each:
            masks[row] = masks.get(row, 0) | mask
    return tuple(sorted([(row, mask) for row, mask in masks.items() if mask]))
