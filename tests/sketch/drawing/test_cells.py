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
    assert again.rows == cells.blank(grid).rows == [0] * 25
    cells.block(again, kept)
    assert again.rows == grid.rows
    assert cells.blocked(again) == kept
    cells.block(again, cells.cells_of(LabelPlace("v2", Box(120.0, 20.0, 30.0, 12.0)), again))
    assert not again.free_at(124.0, 24.0, 4.0, 4.0)
    assert not again.free_at(24.0, 24.0, 4.0, 4.0)
