"""The figures under a drawing: all of them, none over another."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtGui import QPainter, QPicture

from sketch.drawing.annotation import credit
from sketch.drawing.labels import Box
from sketch.drawing.painting import Drawn, paint_elevation
from sketch.drawing.pencil import BODY, Ruler
from sketch.drawing.tags import LEAST_SHARE
from sketch.look.colours import LIGHT
from sketch.page import sheet_panels
from sketch.page.paper import paper
from sketch.page.sheet import _dressed, _kept_blocks, _pages, _sheet
from sketch.page.sheet_halves import SHORT, _view
from sketch.page.sheet_panels import _caption, _written, closest, figure_rows, key_figures
from sketch.page.sheet_parts import SheetWish, parts_of
from solver.layout.parts import Layout, Level
from solver.ledger.solve import Solution
from solver.quantities.units import Kind, System, typeset
from tests.sketch.sheets import DAY, NAMES, options_of
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


ONES = [(name, compared) for name in NAMES for compared in (True, False)]


@pytest.mark.parametrize("one", first(ONES))
@pytest.mark.parametrize("upright", first([False, True]))
@pytest.mark.parametrize("on", first(["A4", "Letter", "A3", "Tabloid"]))
def test_the_three_largest_shares_have_their_labels_on_the_first_page(
    one: tuple[str, bool], upright: bool, on: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of the case that decides, on every paper: what costs most is what a client has to see."""
    name, compared = one
    options = options_of(name)
    sheet = _sheet(options if compared else options[:1], SheetWish(), Level.MINIMUM, System.SI)
    size = paper(on, Path("sheet.pdf"), upright=upright)
    drawn: list[tuple[Drawn, Solution, str]] = []

    def spied(onto: Any, layout: Layout, solution: Solution, *args: Any, **kwargs: Any) -> Drawn:
        result = paint_elevation(onto, layout, solution, *args, **kwargs)
        if isinstance(onto, QPainter):  # not a trial
            drawn.append((result, solution, kwargs["pump"]))
        return result

    monkeypatch.setattr(sheet_panels, "paint_elevation", spied)
    page, *_ = _pages(_dressed(sheet, LIGHT, DAY, None), size, parts_of(frozenset()), 1, _kept_blocks())[0]
    picture = QPicture()
    painter = QPainter(picture)
    page(painter, *size.size, size.dot)
    painter.end()
    assert len(drawn) == len(sheet.panels)
    for result, solution, pump in drawn:
        written = {label.key for label in result.labels if "%" in label.text}
        shares = {glyph.key: abs(glyph.share) for glyph in result.glyphs if glyph.share is not None}
        largest = sorted((key for key in shares if shares[key] >= LEAST_SHARE), key=lambda key: -shares[key])
        assert set(largest[:3]) <= written
        if credit(solution.pumps[pump]):
            assert f"lift {pump}" in written


def test_a_port_that_no_height_is_low_enough_for_says_so_in_the_row_of_the_other_figures() -> None:
    """A figure of a height at which no pump can stand tells a client nothing, and made a second row."""
    sheet = _sheet(options_of("header-two-pumps"), SheetWish(), Level.MINIMUM, System.US)
    fields = key_figures(sheet, sheet.panels[0], SHORT)
    assert fields[-1] == ("Highest port", "no height will do")
    assert sheet.panels[0].highest_text.startswith("none, ")
    assert len(figure_rows(Ruler(), fields, HALF)) == 1


HALF = 460.0
"""Logical pixels: half of the first page of Letter across."""


def test_the_figures_under_a_verdict_as_read_are_those_of_the_line_as_read() -> None:
    """Over by 7.57 stood over a margin of 6.91, which is that of the line as drawn."""
    sheet = _sheet(options_of("strainer-over-a-year"), SheetWish(), Level.MINIMUM, System.SI)
    panel, other = sheet.panels
    read = panel.read_place(System.SI)
    assert read is not None
    fields = dict(key_figures(sheet, panel, SHORT))
    assert fields["Margin as read"] == typeset(read.ledger.margin, Kind.VACUUM, System.SI, 2) == "−7.57 kPa"
    assert fields["At the port"].startswith("26.78 kPa")
    assert "Highest port" not in fields, "that is known of the line as drawn alone"
    caption = " ".join(_caption(Ruler(), sheet, panel, 400.0))
    assert caption == 'As read: feed, "cold morning". The picture: strainer as drawn, margin 6.91 kPa'
    assert "As drawn, as every picture shows it: within: 12.30 of 19.21 kPa" in sheet.outlook(panel).beneath
    assert dict(key_figures(sheet, other, SHORT))["Margin"] == "8.34 kPa"


def test_a_line_that_is_within_as_read_has_its_figures_as_drawn() -> None:
    sheet = _sheet(options_of("strainer-over-a-year"), SheetWish(), Level.MINIMUM, System.SI)
    (panel, _), read = sheet.panels, sheet.as_read
    assert read is not None
    within = replace(panel, as_read=replace(read, far=panel.place, near=panel.place))
    assert within.read_place(System.SI) is None
    assert dict(key_figures(sheet, within, SHORT))["Margin"] == "6.91 kPa"


def test_a_highest_port_that_something_speaks_against_is_left_to_where_that_stands() -> None:
    """It stood bare over a line that then lacks a foot valve."""
    sheet = _sheet(options_of("over-the-bund-wall"), SheetWish(), Level.MINIMUM, System.SI)
    drawn, after = (dict(key_figures(sheet, panel, SHORT)) for panel in sheet.panels)
    assert drawn["Highest port"] == "at least 1.67 m"
    assert "Highest port" not in after
    assert sheet.panels[1].highest_port is None
