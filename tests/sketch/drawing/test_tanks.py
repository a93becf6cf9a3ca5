"""Reservoirs: their fluid before any paint, and what is kept of them from frame to frame."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketch.drawing import cells, tanks
from sketch.drawing.labels import Box, Grid
from sketch.drawing.placer import Placer
from sketch.drawing.recorder import Recorder
from sketch.drawing.view import View
from sketch.look.colours import DARK, LIGHT, Theme
from solver.layout.parts import Layout, Level
from solver.quantities.units import Kind, quantity
from tests import drawings

SQUARE = ((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0))
TWIN = ((0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (2.0, 2.0), (2.0, 1.0), (1.0, 1.0), (1.0, 2.0), (0.0, 2.0))
SIZE = (1000.0, 640.0)
VIEW = View(400.0, 100.0, 500.0)


def area(polygon: list[tuple[float, float]]) -> float:
    pairs = zip(polygon, polygon[1:] + polygon[:1], strict=True)
    return abs(sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairs)) / 2


@given(st.floats(0.01, 0.99))
def test_fluid_fills_a_tank_up_to_its_level(level: float) -> None:
    assert area(tanks.below(SQUARE, level)) == pytest.approx(2.0 * level)


def test_fluid_in_a_tank_of_two_towers() -> None:
    assert area(tanks.below(TWIN, 1.5)) == pytest.approx(3.0 + 2 * 0.5)


def painted(
    layout: Layout,
    before: Recorder | None = None,
    *,
    view: View = VIEW,
    theme: Theme = LIGHT,
    used: Level = Level.MINIMUM,
    selected: tuple[str, ...] = (),
    trouble: tuple[str, ...] = (),
) -> tuple[Recorder, Grid]:
    recorder, placer = Recorder(view.dot, Box(0.0, 0.0, *SIZE), before), Placer(*SIZE, view.dot)
    tanks.reservoirs(recorder, layout, view, SIZE, theme, used, selected, placer, trouble)
    return recorder, placer.lines


@pytest.mark.usefixtures("qapp")
def test_a_reservoir_that_stays_as_it_was_is_drawn_by_the_strokes_of_the_last_frame() -> None:
    layout = drawings.stand()
    (name, tank), *_ = layout.reservoirs.items()
    first, _ = painted(layout)
    second, _ = painted(replace(layout, title="moved"), first)
    assert first.strokes
    assert all(one is other for one, other in zip(first.strokes, second.strokes, strict=True))
    higher = replace(tank, minimum_level=quantity(f"{tank.minimum_level.si + 0.01} m", Kind.LENGTH))
    changed = replace(layout, reservoirs={name: higher})
    for other, _ in (
        painted(changed, first),
        painted(layout, first, view=replace(VIEW, x0=90.0)),
        painted(layout, first, theme=DARK),
        painted(layout, first, used=Level.NORMAL),
        painted(layout, first, selected=(name,)),
        painted(layout, first, trouble=(name,)),
    ):
        assert other.strokes != first.strokes


@pytest.mark.usefixtures("qapp")
def test_labels_keep_off_walls_return_and_ground() -> None:
    layout = drawings.stand()
    (name, tank), *_ = layout.reservoirs.items()
    x, low = (min(corner[axis].si for corner in tank.outline) for axis in (0, 1))
    at = tuple(quantity(f"{value} m", Kind.LENGTH) for value in (x + 0.1, low + 0.2))
    full = replace(layout, reservoirs={name: replace(tank, return_at=at)})
    _, plain = painted(layout)
    before, taken = painted(full)
    _, again = painted(full, before)
    walls = [VIEW.device(x.si, z.si) for x, z in tank.outline]
    fresh = Grid(*SIZE, plain.cell)
    fresh.block_line((*walls, walls[0]), 2.0 * VIEW.dot)
    assert all(row & mask == mask for row, mask in zip(plain.rows, fresh.rows, strict=True))
    feet = tanks._feet(walls, SIZE, VIEW.dot)
    assert feet is not None
    fresh.block(feet)
    assert fresh.rows == plain.rows
    stem = tanks._stem(full.reservoirs[name], VIEW)
    assert stem is not None
    cells.block(fresh, cells.cells_of_line(stem, 4 * VIEW.dot, fresh))
    assert fresh.rows == taken.rows == again.rows != plain.rows
