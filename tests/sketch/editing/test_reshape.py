"""Straights moved sideways, bends, tank corners: what moves, what stretches, what is refused."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketch.editing import building, edits, reshape
from sketch.editing.edits import EditError
from solver.layout import file
from solver.layout.parts import Layout
from tests.sketch.editing.files import drawn, reread
from tests.thorough import first, one_in

from ..conftest import RISER

LAYOUTS = sorted((Path(__file__).parents[3] / "layouts").glob("*.toml"))


EVERY = [layout for path in LAYOUTS for layout in drawn(path)]
STRETCHES = [
    (layout, run, stretch)
    for layout in EVERY
    for run in layout.runs
    for stretch in range(len(layout.runs[run].via) + 1)
    if reshape.sideways_axis(layout, run, stretch) is not None
]
TRIED = one_in(3, STRETCHES)


def is_square(layout: Layout, run: str) -> bool:
    pairs = pairwise(reshape.points(layout, run))
    return all(abs(xa - xb) <= 2e-4 or abs(ya - yb) <= 2e-4 for (xa, ya), (xb, yb) in pairs)


def corner_count(layout: Layout) -> int:
    return sum(len(run.via) for run in layout.runs.values())


def leaves_its_tank(layout: Layout, run: str, stretch: int, to: float) -> bool:
    """Whether a move is refused for the sake of an intake, and of nothing else."""
    try:
        reshape.move_stretch(layout, run, stretch, to)
    except EditError as error:
        return any(name in str(error) for name in layout.intakes)
    return False


@pytest.mark.parametrize("case", TRIED, ids=lambda case: f"{case[0].title[:12]}-{case[1]}-{case[2]}")
@pytest.mark.parametrize("way", first([0.02, -0.03]))
def test_straight_moves_parallel_to_itself_and_its_neighbours_stretch(
    case: tuple[Layout, str, int], way: float
) -> None:
    layout, run, stretch = case
    axis = reshape.sideways_axis(layout, run, stretch)
    assert axis is not None
    before = reshape.points(layout, run)[stretch : stretch + 2]
    to = before[0][axis] + way
    if leaves_its_tank(layout, run, stretch, to):
        return
    moved = reshape.move_stretch(layout, run, stretch, to)
    after = reshape.points(moved, run)[stretch : stretch + 2]
    for old, new in zip(before, after, strict=True):
        assert new[axis] == pytest.approx(to, abs=2e-4)
        assert new[1 - axis] == pytest.approx(old[1 - axis], abs=2e-4)
    assert corner_count(moved) == corner_count(layout)
    assert all(is_square(moved, name) for name in layout.runs if is_square(layout, name))
    assert reread(moved) == moved


@pytest.mark.parametrize("case", TRIED, ids=lambda case: f"{case[0].title[:12]}-{case[1]}-{case[2]}")
def test_straight_moved_there_and_back_is_where_it_was(case: tuple[Layout, str, int]) -> None:
    layout, run, stretch = case
    axis = reshape.sideways_axis(layout, run, stretch)
    assert axis is not None
    was = reshape.points(layout, run)[stretch][axis]
    try:
        back = reshape.move_stretch(reshape.move_stretch(layout, run, stretch, was + 0.02), run, stretch, was)
    except EditError:
        return
    for name in layout.runs:
        for old, new in zip(reshape.points(layout, name), reshape.points(back, name), strict=True):
            assert new == pytest.approx(old, abs=2e-4)
    assert reshape.move_stretch(layout, run, stretch, was) is layout


def test_lead_takes_its_pump_along_and_the_riser_stretches(bent: Layout) -> None:
    moved = reshape.move_stretch(bent, "riser", 1, 1.2)
    assert edits.place(moved, "carriage") == pytest.approx((1.6, 1.2))
    assert reshape.points(moved, "riser")[1] == pytest.approx((0.6, 1.2))
    assert edits.place(moved, "strainer") == edits.place(bent, "strainer")


def test_riser_takes_its_strainer_along_as_far_as_the_tank_goes(bent: Layout) -> None:
    moved = reshape.move_stretch(bent, "riser", 0, 0.9)
    assert edits.place(moved, "strainer") == pytest.approx((0.9, 0.12))
    assert edits.place(moved, "carriage") == edits.place(bent, "carriage")
    with pytest.raises(EditError, match="outside tank"):
        reshape.move_stretch(bent, "riser", 0, 1.5)


def test_straight_between_two_parts_takes_both() -> None:
    layout = file.parse(RISER, "riser").base
    moved = reshape.move_stretch(layout, "riser", 0, 0.8)
    assert edits.place(moved, "strainer")[0] == edits.place(moved, "carriage")[0] == pytest.approx(0.8)
    assert moved.runs["riser"].via == ()


def test_slanted_straight_is_refused(bent: Layout) -> None:
    slanted = replace(bent, runs={"riser": replace(bent.runs["riser"], via=())})
    assert reshape.sideways_axis(slanted, "riser", 0) is None
    with pytest.raises(EditError, match="level or upright"):
        reshape.move_stretch(slanted, "riser", 0, 1.0)


# Bends


def test_bend_beside_a_fixed_part_adds_no_corners(bent: Layout) -> None:
    moved = reshape.move_bend(bent, "riser", 0, 0.8, 1.2)
    assert len(moved.runs["riser"].via) == 1
    assert reshape.points(moved, "riser") == [
        pytest.approx((0.8, 0.12)),
        pytest.approx((0.8, 1.2)),
        pytest.approx((1.6, 1.2)),
    ]


def test_bend_moved_until_the_straight_beside_it_has_no_length_is_gone() -> None:
    flat = file.read(LAYOUTS[0].parent / "baler-flooded.toml").base
    stepped = edits.move_part(flat, "isolator", 1.45, 0.5)
    assert len(reshape.points(stepped, "outlet")) == 4
    straight = reshape.move_bend(stepped, "outlet", 0, 1.4, 0.5)
    assert [y for _, y in reshape.points(straight, "outlet")] == [0.5, 0.5]


def test_bend_whose_intake_would_leave_its_tank_is_refused(bent: Layout) -> None:
    with pytest.raises(EditError, match="outside tank"):
        reshape.move_bend(bent, "riser", 0, 1.5, 1.2)


@pytest.mark.parametrize("layout", EVERY, ids=lambda layout: layout.title[:20])
@given(x=st.floats(-0.3, 0.3), y=st.floats(-0.3, 0.3))
def test_no_bend_is_added_by_moving_one(layout: Layout, x: float, y: float) -> None:
    for run in layout.runs.values():
        for index in range(len(run.via)):
            px, py = edits.corner(layout, run.name, index)
            try:
                moved = reshape.move_bend(layout, run.name, index, px + x, py + y)
            except EditError:
                continue
            if is_square(layout, run.name):
                assert corner_count(moved) == corner_count(layout)
                assert is_square(moved, run.name)
                assert edits.corner(moved, run.name, index) == pytest.approx((px + x, py + y), abs=2e-4)


def test_an_end_is_turned_by_name_onto_a_free_end_or_another_line() -> None:
    (path,) = (each for each in LAYOUTS if each.stem == "header-two-pumps")
    layout = file.read(path).base
    run = next(name for name, line in layout.runs.items() if line.end in layout.pumps)
    line = layout.runs[run]
    other = next(name for name in layout.pumps if name != line.end)
    assert other not in reshape.ends_for(layout, run, 1), "a line ends on it already"
    onto = next(name for name in reshape.ends_for(layout, run, 1) if name in layout.runs)
    turned = reshape.turned_onto(layout, run, 1, onto)
    assert turned.runs[run].end in turned.tees.keys() - layout.tees.keys()
    spare = building.add(layout, building.PUMP, 5.0, 1.0)
    assert spare.name in reshape.ends_for(spare.layout, run, 1)
    assert line.start not in reshape.ends_for(spare.layout, run, 1), "it would lead back to where it begins"
    again = reshape.turned_onto(spare.layout, run, 1, spare.name)
    assert again.runs[run].end == spare.name
    assert reread(again) == again
    with pytest.raises(EditError, match="no end free"):
        reshape.turned_onto(layout, run, 1, other)
