"""Arrows of flow stand where lines run in parallel, and point with the flow."""

from __future__ import annotations

import math

import pytest

from sketch.drawing import glyphs
from sketch.drawing.arrows import Arrow, arrows, rows_on_loops
from sketch.drawing.view import fit
from solver.ledger.solve import Solution, solve
from tests import drawings
from tests.sketch import samples


def found(solution: Solution, pump: str) -> dict[str, Arrow]:
    view = fit(solution.layout, 1000, 640)
    drawn = glyphs.glyphs(solution.layout, solution, view, pump)
    return {arrow.part: arrow for arrow in arrows(solution, drawn, 1.0)}


def test_parallel_lines_have_one_arrow_each_and_others_have_none() -> None:
    assert found(solve(drawings.twins()), "press").keys() == {"left riser", "right riser"}
    assert found(solve(drawings.ring()), "large").keys() == {"west", "north", "east", "south"}


def test_a_line_with_no_parallel_needs_no_arrow() -> None:
    assert not found(samples.solution(), "press")
    drawn = glyphs.glyphs(drawings.stand(), None, fit(drawings.stand(), 1000, 640), "press")
    assert not arrows(None, drawn, 1.0)


def test_arrows_point_with_the_flow_also_where_it_runs_against_the_walk() -> None:
    solution = solve(drawings.ring())
    flows = {row.part: float(flow) for row, flow in zip(solution.network.rows, solution.flows, strict=True)}
    ring = found(solution, "large")
    assert flows["north"] < 0.0 < flows["south"]
    assert (ring["south"].ux, ring["south"].uy) == pytest.approx((1.0, 0.0))
    assert (ring["north"].ux, ring["north"].uy) == pytest.approx((-1.0, 0.0))
    assert (ring["west"].ux, ring["west"].uy) == pytest.approx((0.0, -1.0))
    assert [part for part in ring if ring[part].against] == ["north"]


def test_an_arrow_stands_in_the_middle_of_its_pipe() -> None:
    for arrow in found(solve(drawings.twins()), "press").values():
        assert math.dist((arrow.x, arrow.y), arrow.pipe.middle) < 1e-6


def test_a_pipe_too_short_for_an_arrow_has_none() -> None:
    solution = solve(drawings.ring())
    view = fit(solution.layout, 1000, 640)
    drawn = glyphs.glyphs(solution.layout, solution, view.zoomed(0.05, 0, 0), "large")
    assert not arrows(solution, drawn, 1.0)


def test_loose_ends_are_no_loops() -> None:
    rows = solve(drawings.ring()).network.rows
    assert {rows[number].part for number in rows_on_loops(rows)} >= {"west", "north", "east", "south"}
    assert not {rows[number].part for number in rows_on_loops(rows)} & {
        "riser",
        "to large",
        "to small",
        "to least",
    }
    assert rows_on_loops(samples.rows(drawings.stand())) == frozenset()
