"""The figures under a drawing: all of them, none over another."""

from __future__ import annotations

from functools import partial

import pytest

from sketch.drawing.labels import Box
from sketch.drawing.pencil import BODY, Ruler
from sketch.page.sheet import _sheet
from sketch.page.sheet_halves import _view
from sketch.page.sheet_panels import _written, closest, figure_rows
from sketch.page.sheet_parts import SheetWish
from solver.layout.parts import Level
from solver.quantities.units import System
from tests.sketch.sheets import options_of
from tests.thorough import first

pytestmark = pytest.mark.usefixtures("qapp")


def test_figures_that_do_not_fit_go_on_another_row() -> None:
    ruler = Ruler()
    fields = [("At the port", "2.3 inHg vac."), ("Allowed here", "none: +1.2 inHg"), ("Spent", "2.3 inHg")]
    for width in (150.0, 260.0, 600.0):
        rows = figure_rows(ruler, fields, width)
        assert [field for row in rows for _, field in row] == fields
        for row in rows:
            ends = [at + max(ruler.width(n), ruler.width(f, BODY, bold=True)) for at, (n, f) in row]
            assert ends[-1] <= width or len(row) == 1
            assert all(end < at for end, (at, _) in zip(ends, row[1:], strict=False))
    assert len(figure_rows(ruler, fields, 150.0)) > len(figure_rows(ruler, fields, 600.0)) == 1


def test_none_of_them_stands_alone_where_another_would_fit_beside_it() -> None:
    ruler = Ruler()
    names = ("At the port", "Allowed here", "Margin", "Highest port")
    fields = [(name, "no height will do" if name == names[-1] else "2.3 inHg") for name in names]
    widths = [max(ruler.width(name), ruler.width(figure, BODY, bold=True)) for name, figure in fields]
    rows = figure_rows(ruler, fields, sum(widths[:3]) + 50)
    assert [len(row) for row in rows] == [2, 2]


@pytest.mark.parametrize("legend", first([False, True]))
def test_a_drawing_is_larger_where_all_that_is_written_on_it_still_has_room(legend: bool) -> None:
    sheet = _sheet(options_of("winter-press")[:1], SheetWish(), Level.MINIMUM, System.SI)
    (panel,) = sheet.panels
    larger = 0
    for wide in (340.0, 420.0, 500.0):
        size = (wide, 0.8 * wide)
        view_of = partial(_view, Ruler(), sheet, Box(0.0, 0.0, *size))
        view = closest(sheet, [panel], size, view_of, legend=legend)
        assert view.scale >= view_of(1.0).scale
        larger += view.scale > view_of(1.0).scale
        written = [_written(sheet, panel, each, size, legend=legend) for each in (view, view_of(1.0))]
        assert all(now >= usual for now, usual in zip(*written, strict=True))
    assert larger
