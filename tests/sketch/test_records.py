"""No record that a view shows holds a nan: a figure that does not exist is None, and its reader asks."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from sketch.air_column.notes import notes
from sketch.air_column.slices import slices
from sketch.canvas.handles import handles
from sketch.drawing.glyphs import glyphs
from sketch.drawing.view import View
from sketch.page.sheet_changes import margin_changes
from sketch.plots import profile
from sketch.views import ledger_rows
from solver.layout import file
from solver.ledger.solve import Solution, solve
from solver.quantities.units import System
from tests.records import nan_places

LAYOUTS = sorted((Path(__file__).parents[2] / "layouts").glob("*.toml"))
VIEW = View(100.0, 0.0, 0.0, 1.0)


def records(solution: Solution) -> Iterator[object]:
    yield handles(solution.layout)
    yield glyphs(solution.layout, None, VIEW, "")
    for pump, ledger in solution.pumps.items():
        yield glyphs(solution.layout, solution, VIEW, pump)
        yield tuple(ledger_rows.rows(solution, pump))
        yield profile.profile(solution, pump, System.SI)
        yield notes(ledger, slices(ledger), System.SI, "")


@pytest.mark.parametrize("path", LAYOUTS, ids=lambda path: path.stem)
def test_no_record_holds_nan(path: Path) -> None:
    drawing = file.read(path)
    base = solve(drawing.base)
    for layout in (drawing.base, *(each.layout for each in drawing.alternatives.values())):
        solution = solve(layout)
        assert nan_places(list(records(solution))) == []
        for pump in solution.pumps.keys() & base.pumps.keys():
            assert nan_places(margin_changes(base.pumps[pump], solution.pumps[pump])) == []
