"""What of the line is drawn where, before any paint."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.drawing import glyphs
from sketch.drawing.glyphs import LEAST_BORE, Glyph, Mark
from sketch.drawing.view import View
from sketch.editing import beginning, building
from solver.layout import file
from solver.ledger.solve import solve
from solver.quantities.units import System
from tests import drawings
from tests.sketch import samples

VIEW = View(400.0, 50.0, 600.0)


def drawn(view: View = VIEW) -> dict[str, Glyph]:
    shapes = glyphs.glyphs(drawings.stand(), samples.solution(), view, "press")
    return {glyph.key: glyph for glyph in shapes}


def test_every_entry_has_one_glyph_of_its_own_colour() -> None:
    by_key = drawn()
    for key, share in samples.SHARES.items():
        assert by_key[key].share == share


def test_pipes_are_drawn_at_their_true_bore() -> None:
    assert drawn()["riser/straight 1"].width == pytest.approx(0.0525 * VIEW.scale)


@pytest.mark.parametrize("dot", [1.0, 2.0, 12.5])
def test_a_pipe_never_gets_too_thin_to_carry_a_colour(dot: float) -> None:
    assert drawn(View(10.0, 0.0, 0.0, dot))["riser/straight 1"].width == LEAST_BORE * dot


def test_what_is_not_on_the_pump_s_way_has_no_share() -> None:
    drawn_glyphs = glyphs.glyphs(drawings.stand(), samples.solution(), VIEW, "another pump")
    assert drawn_glyphs
    assert all(glyph.share is None for glyph in drawn_glyphs)


def test_without_a_solution_the_runs_are_still_drawn() -> None:
    drawn_glyphs = glyphs.glyphs(drawings.stand(), None, VIEW, "press")
    assert {glyph.part for glyph in drawn_glyphs} == {"riser", "lead", "strainer", "isolator", "press"}
    assert all(glyph.share is None for glyph in drawn_glyphs)


def test_a_run_that_cannot_be_built_is_drawn_from_corner_to_corner() -> None:
    layout = drawings.stand()
    doubled = replace(layout.runs["riser"], via=(drawings.point((0.9, 1.9)), drawings.point((0.9, 0.3))))
    drawn_glyphs = glyphs.glyphs(replace(layout, runs={**layout.runs, "riser": doubled}), None, VIEW, "press")
    (riser,) = [glyph for glyph in drawn_glyphs if glyph.part == "riser"]
    assert len(riser.points) == 4


def test_a_symbol_points_with_the_flow_even_where_its_run_was_drawn_against_it() -> None:
    layout = drawings.stand()
    lead = replace(layout.runs["lead"], start="press", end="isolator")
    backward = replace(layout, runs={**layout.runs, "lead": lead})
    solution = samples.solution(backward, made_rows=samples.rows(drawings.stand()))
    by_key = {glyph.key: glyph for glyph in glyphs.glyphs(backward, solution, VIEW, "press")}
    assert (by_key["press/port"].ux, by_key["press/port"].uy) == pytest.approx((1.0, 0.0))


def test_a_point_s_distance_is_from_the_edge_of_the_pipe() -> None:
    pipe = Glyph("k", "p", "straight", ((0.0, 0.0), (100.0, 0.0)), 10.0)
    assert glyphs.distance(pipe, 50.0, 8.0, 1.0) == pytest.approx(3.0)
    assert glyphs.distance(pipe, 50.0, 4.0, 1.0) == 0.0
    assert glyphs.distance(pipe, 108.0, 0.0, 1.0) == pytest.approx(3.0)


def test_the_port_lies_on_the_pump_s_rim() -> None:
    layout = drawings.stand()
    x, y, radius = glyphs.pump_circle(layout, "press", VIEW)
    port = VIEW.device(2.1, 1.6)
    assert y == pytest.approx(port[1])
    assert 0.0 < (x - radius) - port[0] < radius / 2


def test_a_reducer_stands_on_its_straight_however_short() -> None:
    """The riser is wider than the pump's port, and its last straight shorter than a symbol is long."""
    text = drawings.RISER.replace('to = "carriage"\nsize = "NPS 2', 'to = "carriage"\nsize = "NPS 3')
    text = text.replace(
        'to = "carriage"', 'to = "carriage"\nvia = [["0.2 m", "0.85 m"], ["0.6 m", "0.85 m"]]'
    )
    layout = file.parse(text).base
    view = View(60.0, 50.0, 600.0)
    shapes = glyphs.glyphs(layout, solve(layout), view, "carriage")
    (reducer,) = (each for each in shapes if each.kind == Mark.BORE_CHANGE and "carriage" in each.key)
    x, y = view.device(0.6, 1.0)
    (at,) = reducer.points
    assert at[0] == pytest.approx(x)
    assert 0.0 < at[1] - y <= 0.15 * view.scale / 2 + 1e-9


@pytest.mark.parametrize(("x", "way"), [(5.0, (1.0, 0.0)), (-5.0, (-1.0, 0.0))])
def test_a_pump_without_a_line_has_its_port_towards_the_tank(x: float, way: tuple[float, float]) -> None:
    layout = beginning.empty(System.SI)
    layout = building.add(layout, building.TANK, 0.0, 0.0).layout
    layout = building.add(layout, building.PUMP, x, 1.0).layout
    assert glyphs.pump_way(layout, "pump") == way
    lone = replace(layout, reservoirs={})
    assert glyphs.pump_way(lone, "pump") == (1.0, 0.0)
