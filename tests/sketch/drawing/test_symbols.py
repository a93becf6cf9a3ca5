"""Symbols as shapes: where they point, what they cover, and hatching that stays inside."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketch.drawing import symbols
from sketch.drawing.glyphs import Glyph, Mark
from solver.layout.kinds import FittingKind, IntakeKind

ALL_KINDS = (*FittingKind, *IntakeKind, *Mark)


def glyph(kind: str, ux: float = 1.0, uy: float = 0.0, width: float = 10.0) -> Glyph:
    wide = 1.6 * width if "reducer" in kind else 0.0
    legs = ((1.0, 0.0), (0.0, 1.0))
    return Glyph("key", "part", kind, ((100.0, 100.0),), width, ux=ux, uy=uy, legs=legs, wide=wide)


@pytest.mark.parametrize("kind", ["concentric reducer", "eccentric reducer"])
def test_the_wide_end_of_a_reducer_is_as_wide_as_its_line(kind: str) -> None:
    (body,) = symbols.symbol(glyph(kind, width=20.0), 1.0).fills
    left = min(x for x, _ in body)
    ends = [y for x, y in body if x == left]
    assert max(ends) - min(ends) == pytest.approx(1.6 * 20.0)
    assert max(y for _, y in body) - min(y for _, y in body) == pytest.approx(1.6 * 20.0)


@pytest.mark.parametrize("kind", ALL_KINDS)
def test_every_kind_has_a_symbol_about_its_point(kind: str) -> None:
    drawn = symbols.symbol(glyph(kind), 1.0)
    assert drawn.fills
    box = symbols.extent(glyph(kind), 1.0)
    assert box.holds(100.0, 100.0)
    assert box.width < 60
    assert box.height < 60


def test_valves_are_told_from_one_another() -> None:
    drawn = {
        kind: symbols.symbol(glyph(kind), 1.0)
        for kind in FittingKind
        if kind not in ("known K", "known drop", "maker's curve")
    }
    # One symbol for a check, whatever its closing part, and for a valve, whatever its bore.
    alike = {
        "swing check",
        "lift check",
        "tilting-disc check",
        "poppet foot valve",
        "reduced ball valve",
        "reduced plug valve",
    }
    others = [kind for kind in drawn if kind not in alike]
    assert len({drawn[kind] for kind in others}) == len(others)


@pytest.mark.parametrize("kind", ALL_KINDS)
def test_a_symbol_turns_with_the_flow(kind: str) -> None:
    level, up = (
        symbols.extent(Glyph("k", "p", kind, ((0.0, 0.0),), 10.0, ux=ux, uy=uy), 1.0)
        for ux, uy in ((1.0, 0.0), (0.0, -1.0))
    )
    assert (level.width, level.height) == pytest.approx((up.height, up.width), abs=1e-9)


def test_a_closed_valve_is_solid() -> None:
    shut = symbols.symbol(glyph("ball valve")._replace(closed=True), 1.0)
    assert shut.fills == symbols.symbol(glyph("ball valve"), 1.0).fills
    assert set(shut.fills) <= set(shut.solid)


def test_an_eccentric_reducer_is_flat_on_top_whichever_way_it_runs() -> None:
    for ux in (1.0, -1.0):
        (body,) = symbols.symbol(glyph("eccentric reducer", ux=ux), 1.0).fills
        top = min(y for _, y in body)
        assert sum(y == pytest.approx(top) for _, y in body) == 2


def test_a_check_passes_flow_towards_its_bar() -> None:
    drawn = symbols.symbol(glyph("swing check"), 1.0)
    bar = drawn.lines[0]
    assert bar[0][0] == pytest.approx(bar[1][0])
    assert bar[0][0] == pytest.approx(max(x for x, _ in drawn.fills[0]))


def test_a_filter_has_its_element_dashed_across_the_flow() -> None:
    """ISO 1219-1: a diamond with a dashed line square to the flow."""
    drawn = symbols.symbol(glyph("filter"), 1.0)
    assert len(drawn.fills[0]) == 4
    (ax, ay), (bx, by) = drawn.dashed[0]
    assert ax == pytest.approx(bx)
    assert abs(ay - by) > 20


def test_a_pump_s_triangle_stands_on_the_rim_and_points_out() -> None:
    """ISO 1219-1: the triangle of a pump points away from the centre."""
    tip, *base = symbols.pump_triangle(0.0, 0.0, 20.0, 0.0, -1.0)
    assert tip == pytest.approx((0.0, -20.0))
    assert all(-20.0 < y < 0.0 for _, y in base)


convex = st.builds(
    lambda x, y, r, n, turn: [
        (x + r * math.cos(turn + 2 * math.pi * k / n), y + r * math.sin(turn + 2 * math.pi * k / n))
        for k in range(n)
    ],
    st.floats(-50, 50), st.floats(-50, 50), st.floats(2, 60), st.integers(3, 8), st.floats(0, 6),
)  # fmt: skip


@given(convex, st.booleans())
def test_hatching_stays_inside_and_rises_at_45_degrees(
    shape: list[tuple[float, float]], rising: bool
) -> None:
    left, right = min(x for x, _ in shape), max(x for x, _ in shape)
    for (ax, ay), (bx, by) in symbols.hatch(shape, 5.0, rising=rising):
        assert left - 1e-6 <= ax < bx <= right + 1e-6
        assert by - ay == pytest.approx(-(bx - ax) if rising else bx - ax, abs=1e-6)


def test_hatching_runs_on_across_the_edge_of_two_shapes() -> None:
    one = symbols.hatch(((0, 0), (20, 0), (20, 20), (0, 20)), 5.0)
    other = symbols.hatch(((20, 0), (40, 0), (40, 20), (20, 20)), 5.0)
    ends = {round(y, 6) for _, (x, y) in one if x == pytest.approx(20)}
    starts = {round(y, 6) for (x, y), _ in other if x == pytest.approx(20)}
    assert ends
    assert ends - {0.0, 20.0} == starts - {0.0, 20.0}


def test_a_ribbon_covers_its_line() -> None:
    quads = symbols.ribbon([(0, 0), (10, 0), (10, 10)], 4.0)
    assert [sorted(quad) for quad in quads] == [
        [(0, -2), (0, 2), (10, -2), (10, 2)],
        [(8, 0), (8, 10), (12, 0), (12, 10)],
    ]


def test_a_level_mark_stands_on_the_surface() -> None:
    triangle, lines = symbols.level_mark(10.0, 50.0, 9.0)
    assert max(y for _, y in triangle) == 50.0
    assert all(a[1] > 50.0 for a, _ in lines)
    assert lines[0][1][0] - lines[0][0][0] > lines[1][1][0] - lines[1][0][0]


def test_the_ground_is_hatched_below_its_line() -> None:
    line, *strokes = symbols.ground(0.0, 60.0, 100.0, 6.0)
    assert line == ((0.0, 100.0), (60.0, 100.0))
    assert len(strokes) == 10
    assert all(low[1] == 106.0 and high[1] == 100.0 and low[0] >= 0.0 for high, low in strokes)


@given(convex)
def test_what_is_clipped_stays_inside_and_what_is_inside_stays_whole(
    shape: list[tuple[float, float]],
) -> None:
    box = symbols.Box(-30.0, -20.0, 60.0, 40.0)
    for x, y in symbols.clipped(shape, box):
        assert box.grown(1e-9).holds(x, y)
    around = symbols.Box(-500.0, -500.0, 1000.0, 1000.0)
    assert symbols.clipped(shape, around) == tuple(shape)


def test_a_shape_far_off_is_clipped_away() -> None:
    assert not symbols.hatch(
        symbols.clipped(((500, 0), (600, 0), (600, 50)), symbols.Box(0, 0, 100, 100)), 5.0
    )


def test_a_shape_a_million_times_the_sheet_costs_no_more_than_the_sheet() -> None:
    huge = ((-1e8, -1e8), (1e8, -1e8), (1e8, 1e8), (-1e8, 1e8))
    lines = symbols.hatch(symbols.clipped(huge, symbols.Box(0, 0, 1400, 900)), 6.0)
    assert len(lines) < 400
