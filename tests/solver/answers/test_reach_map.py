"""The margin on the map is the margin of the drawing with its pump dragged there."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest

from solver.answers.reach_map import reach_map
from solver.geometry import moving
from solver.layout import file
from solver.layout.parts import Layout, Level
from solver.ledger.solve import solve
from solver.quantities.units import Kind, quantity
from tests.drawings import SHIPPED
from tests.thorough import one_in

LAYOUTS = {path.stem: file.read(path).base for path in SHIPPED}


def around(layout: Layout, pump: str) -> tuple[np.ndarray, np.ndarray]:
    x, y = (coordinate.si for coordinate in layout.pumps[pump].at)
    return np.linspace(x - 1.5, x + 1.5, 60), np.linspace(y - 1.0, y + 1.0, 40)


@pytest.mark.parametrize("name", one_in(9, LAYOUTS))
def test_fifty_places_have_the_margin_of_a_drag(name: str) -> None:
    layout = LAYOUTS[name]
    pump = next(iter(layout.pumps))
    xs, ys = around(layout, pump)
    mapped = reach_map({"as drawn": (layout, Level.MINIMUM)}, pump, xs, ys)
    draw = random.Random(name)
    for _ in range(50):
        i, j = draw.randrange(len(ys)), draw.randrange(len(xs))
        try:
            dragged = moving.move_part(layout, pump, float(xs[j]), float(ys[i]))
            margin = solve(dragged).pumps[pump].margin
        except ValueError:
            assert np.isnan(mapped.margin[i, j])
        else:
            assert mapped.margin[i, j] == pytest.approx(margin, abs=2.0)  # a drag writes places to 0.1 mm


def test_the_worst_case_decides_and_one_that_is_not_judged_leaves_no_place_within() -> None:
    layout = LAYOUTS["baler-flooded"]
    xs, ys = around(layout, "baler")
    both = reach_map(
        {"normal": (layout, Level.NORMAL), "minimum": (layout, Level.MINIMUM)}, "baler", xs[::10], ys[::10]
    )
    alone = reach_map({"minimum": (layout, Level.MINIMUM)}, "baler", xs[::10], ys[::10])
    judged = both.case >= 0
    assert judged.any()
    assert (both.margin[judged] <= alone.margin[judged]).all()
    assert np.isnan(both.margin[~judged]).all()
    assert both.cases[1] == "minimum"
    assert set(both.case[judged]) == {1}


def test_a_pump_that_is_not_drawn_is_refused() -> None:
    with pytest.raises(KeyError):
        reach_map({"": (LAYOUTS["baler-flooded"], Level.MINIMUM)}, "none", np.array([0.0]), np.array([0.0]))


def test_places_left_out_for_their_bends_alone_are_known_from_those_of_an_unjudged_case() -> None:
    layout = LAYOUTS["wash-water-npsh"]
    xs, ys = np.array([1.35, 2.9]), np.array([0.6])
    mapped = reach_map({"as drawn": (layout, Level.MINIMUM)}, "wash", xs, ys)
    assert np.isnan(mapped.margin).tolist() == [[True, False]]
    assert mapped.lacks_room
    frozen = replace(layout, fluid=replace(layout.fluid, temperature=quantity("-90 degC", Kind.TEMPERATURE)))
    assert not reach_map({"frozen": (frozen, Level.MINIMUM)}, "wash", xs, ys).lacks_room
    assert not reach_map({"as drawn": (layout, Level.MINIMUM)}, "wash", xs[1:], ys).lacks_room
