"""Cells kept as a value block what the things they were taken from block."""

from sketch.drawing import cells
from sketch.drawing.labels import Box, Grid, LabelPlace


def test_kept_cells_block_what_the_label_and_its_leader_block() -> None:
    grid, again = Grid(200.0, 100.0, 4.0), Grid(200.0, 100.0, 4.0)
    place = LabelPlace("v1", Box(20.0, 20.0, 30.0, 12.0), ((50.0, 30.0), (90.0, 70.0)))
    assert place.leader is not None
    grid.block(place.box)
    grid.block_line(place.leader)
    kept = cells.cells_of(place, again)
    assert again.rows == [0] * 25
    cells.block(again, kept)
    assert again.rows == grid.rows
    assert kept == tuple((row, mask) for row, mask in enumerate(grid.rows) if mask)
    cells.block(again, cells.cells_of(LabelPlace("v2", Box(120.0, 20.0, 30.0, 12.0)), again))
    assert not again.free_at(124.0, 24.0, 4.0, 4.0)
    assert not again.free_at(24.0, 24.0, 4.0, 4.0)


def test_kept_cells_of_a_line_and_of_a_box_are_those_on_the_sheet() -> None:
    grid = Grid(200.0, 100.0, 4.0)
    bent = ((-20.0, 10.0), (60.0, 10.0), (150.0, 90.0), (150.0, 130.0))
    grid.block_line(bent, 9.0)
    assert cells.cells_of_line(bent, 9.0, grid) == tuple(
        (row, mask) for row, mask in enumerate(grid.rows) if mask
    )
    assert cells.cells_of_box(Box(-20.0, -20.0, 30.0, 30.0), grid) == ((0, 7), (1, 7), (2, 7))
    assert cells.cells_of_box(Box(210.0, 10.0, 30.0, 30.0), grid) == ()
