"""Tanks: corners, walls, size and what stands in them: what moves, what stretches, what is refused."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketch.editing import edits, reshape, tanks
from sketch.editing.edits import EditError
from sketch.editing.tanks import Side
from solver.geometry import reservoirs
from solver.geometry.outline import GeometryError
from solver.layout import file
from solver.layout.parts import Layout
from solver.quantities.units import Kind, quantity
from tests.sketch.editing.files import drawn, reread

from ..conftest import RISER

LAYOUTS = sorted((Path(__file__).parents[3] / "layouts").glob("*.toml"))


EVERY = [layout for path in LAYOUTS for layout in drawn(path)]


def outline(layout: Layout, name: str = "tank") -> list[tuple[float, float]]:
    return [(x.si, y.si) for x, y in layout.reservoirs[name].outline]


def test_rectangle_stays_one_from_any_corner(bent: Layout) -> None:
    for corner, (x, y) in enumerate(outline(bent)):
        moved = tanks.move_outline_corner(bent, "tank", corner, x + 0.05, y + 0.02)
        xs, ys = zip(*outline(moved), strict=True)
        assert len(set(xs)) == len(set(ys)) == 2
        assert outline(moved)[corner] == pytest.approx((x + 0.05, y + 0.02))
        assert outline(moved)[(corner + 2) % 4] == outline(bent)[(corner + 2) % 4]
        assert reread(moved) == moved


@pytest.mark.parametrize(
    ("corner", "x", "y", "said"),
    [
        (2, 0.3, 0.7, "strainer"),  # the right wall passes the strainer
        (2, 1.2, 0.5, "normal level"),  # the rim comes under the level
        (0, 0.0, 0.42, "minimum level|strainer"),  # the floor rises above it
        (2, 1.2, -0.2, "nothing|level"),  # turned over
        (1, 0.0, 0.0, "nothing|strainer"),  # no width left
    ],
)
def test_tank_that_would_not_hold_what_is_in_it_is_refused(
    bent: Layout, corner: int, x: float, y: float, said: str
) -> None:
    with pytest.raises(EditError, match=said):
        tanks.move_outline_corner(bent, "tank", corner, x, y)


def test_nozzle_comes_along_with_its_wall_and_its_line_stretches() -> None:
    layout = next(each for each in EVERY if each.title.startswith("Baler pump"))
    (nozzle,) = layout.intakes.values()
    wall = nozzle.at[0].si
    corner = next(at for at, (x, _) in enumerate(outline(layout)) if x == pytest.approx(wall))
    moved = tanks.move_outline_corner(layout, "tank", corner, wall - 0.1, outline(layout)[corner][1])
    assert moved.intakes[nozzle.name].at[0] == moved.reservoirs["tank"].outline[corner][0]
    run = next(run for run in layout.runs.values() if run.start == nozzle.name)
    assert reshape.points(moved, run.name)[0][0] == pytest.approx(wall - 0.1)
    assert reshape.points(moved, run.name)[-1] == reshape.points(layout, run.name)[-1]
    assert reread(moved) == moved


def test_slanted_wall_follows_one_corner_alone(bent: Layout) -> None:
    tank = bent.reservoirs["tank"]
    sloped = (tank.outline[0], tank.outline[1], (tank.outline[2][0], tank.outline[2][1]), tank.outline[3])
    low = edits.renew(tank.outline[0][1], 0.05, edits.Kind.LENGTH)
    tank = replace(tank, outline=((sloped[0][0], low), *sloped[1:]))
    layout = replace(bent, reservoirs={"tank": tank})
    moved = tanks.move_outline_corner(layout, "tank", 0, 0.0, 0.08)
    assert outline(moved)[0] == pytest.approx((0.0, 0.08))
    assert outline(moved)[1:] == outline(layout)[1:]


@pytest.mark.parametrize(
    ("old", "new", "corner", "x", "y", "said"),
    [
        ("depth =", 'baffle = { x = "0.9 m", top = "0.3 m" }\ndepth =', 2, 0.8, 0.7, "baffle"),
        ("depth =", 'return_at = ["1.1 m", "0.3 m"]\ndepth =', 2, 1.0, 0.7, "return line"),
        ("depth =", 'draw_down = "300 L"\ndepth =', 2, 0.75, 0.7, "cylinders"),
        ("depth =", "sealed = true\ndepth =", 2, 1.2, 0.55, "sealed"),
    ],
)
def test_what_stands_in_the_tank_is_held_too(
    old: str, new: str, corner: int, x: float, y: float, said: str
) -> None:
    layout = file.parse(RISER.replace(old, new, 1), "held").base
    with pytest.raises(EditError, match=said):
        tanks.move_outline_corner(layout, "tank", corner, x, y)


@given(
    moves=st.lists(
        st.tuples(st.integers(0, 3), st.floats(-0.6, 1.8), st.floats(-0.6, 1.4)), min_size=1, max_size=5
    )
)
def test_whatever_is_made_of_a_tank_can_be_saved_and_read_again(
    moves: list[tuple[int, float, float]],
) -> None:
    layout = file.parse(RISER.replace("depth =", 'draw_down = "60 L"\ndepth =', 1), "tank").base
    for corner, x, y in moves:
        try:
            layout = tanks.move_outline_corner(layout, "tank", corner, x, y)
        except (EditError, GeometryError):
            continue
    assert reread(layout) == layout


def by_figures(layout: Layout) -> list[str]:
    tank = layout.reservoirs["tank"]
    return [f"{tanks.size(tank, side):.4g}" for side in Side]


def test_a_tank_is_made_by_figures(bent: Layout) -> None:
    assert by_figures(bent) == ["0", "0", "1.2", "0.7"]
    wide = tanks.set_size(bent, "tank", Side.WIDTH, quantity("1.5 m", Kind.LENGTH))
    tall = tanks.set_size(wide, "tank", Side.HEIGHT, 0.9)
    assert by_figures(tall) == ["0", "0", "1.5", "0.9"]
    assert tall.reservoirs["tank"].normal_level == bent.reservoirs["tank"].normal_level
    assert edits.place(tall, "strainer") == edits.place(bent, "strainer")
    there = tanks.set_size(tanks.set_size(tall, "tank", Side.LEFT, -0.1), "tank", Side.FLOOR, 0.2)
    assert by_figures(there) == ["-0.1", "0.2", "1.5", "0.9"]
    assert edits.place(there, "strainer") == pytest.approx((0.5, 0.32)), "it moves with its tank"
    assert tanks.set_size(bent, "tank", Side.WIDTH, 1.2) is bent
    for side, value, said in ((Side.WIDTH, 0.5, "strainer"), (Side.HEIGHT, 0.5, "normal level"),
                              (Side.WIDTH, 0.0, "above zero")):  # fmt: skip
        with pytest.raises(EditError, match=said):
            tanks.set_size(bent, "tank", side, value)
    assert reread(there) == there


def test_a_sloped_floor_and_a_sump_are_made_of_corners(bent: Layout) -> None:
    sump = tanks.add_corner(bent, "tank", 0, 0.6, -0.1)
    assert outline(sump)[:3] == [(0.0, 0.0), (0.6, -0.1), (1.2, 0.0)]
    sloped = tanks.move_outline_corner(sump, "tank", 2, 1.2, -0.1)
    assert outline(sloped)[2] == (1.2, pytest.approx(-0.1))
    assert outline(sloped)[3] == (1.2, 0.7)
    assert tanks.wall_axis(sloped.reservoirs["tank"], 0) is None
    assert tanks.wall_axis(sloped.reservoirs["tank"], 1) == tanks.Y
    lower = tanks.move_wall(sloped, "tank", 1, 0.9, -0.2)
    assert outline(lower)[1:3] == [(0.6, pytest.approx(-0.2)), (1.2, pytest.approx(-0.2))]
    with pytest.raises(EditError, match="level or upright"):
        tanks.move_wall(sloped, "tank", 0, 0.0, 0.0)
    assert outline(tanks.remove_corner(sump, "tank", 1)) == outline(bent)
    with pytest.raises(EditError, match="hold nothing"):
        tanks.add_corner(bent, "tank", 0, 0.6, 2.0)
    three = tanks.remove_corner(bent, "tank", 3)
    with pytest.raises(EditError, match="three corners"):
        tanks.remove_corner(three, "tank", 0)


def test_baffle_return_and_draw_down_are_put_in_and_moved(bent: Layout) -> None:
    layout = tanks.set_return(tanks.set_baffle(bent, "tank", 0.9, 0.3), "tank", 1.1, 0.2)
    tank = layout.reservoirs["tank"]
    assert (tank.baffle.x.si, tank.baffle.top.si, tank.baffle.bottom) == (0.9, 0.3, None)
    assert reread(layout) == layout
    assert tanks.set_baffle(layout, "tank", 0.9, 0.3).reservoirs["tank"].baffle == tank.baffle
    for x, y in ((1.5, 0.2), (0.3, -0.2)):
        with pytest.raises(EditError, match="outside tank"):
            tanks.set_return(layout, "tank", x, y)
        with pytest.raises(EditError, match=r"outside tank|its foot"):
            tanks.set_baffle(layout, "tank", x, y)
    down = tanks.set_drawn_down(bent, "tank", 0.45)
    drawn = down.reservoirs["tank"]
    assert drawn.draw_down.si == pytest.approx(1.2 * 0.6 * 0.1)
    assert reservoirs.drawn_down(drawn) == pytest.approx(0.45)
    with pytest.raises(EditError, match="between the floor and the normal level"):
        tanks.set_drawn_down(bent, "tank", 0.6)
    assert tanks.tank_round(bent, 0.3, 0.3) == "tank"
    with pytest.raises(EditError, match="click within one"):
        tanks.tank_round(bent, 3.0, 0.3)
