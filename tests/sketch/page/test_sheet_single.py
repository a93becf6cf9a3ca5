"""The page of one drawing: nothing is drawn over the air column, and the drawing is as large as it may be."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QImage, QPainter

from sketch.drawing.pencil import Pencil, Ruler
from sketch.drawing.view import XY
from sketch.look.colours import LIGHT
from sketch.page import sheet_single
from sketch.page.blocks import Picture
from sketch.page.sheet import _dressed, _sheet
from sketch.page.sheet_frame import Folio
from sketch.page.sheet_parts import SheetWish
from sketch.page.sheet_single import LEAST_DRAWING, _screens_drawn, _set_in, drawing_page, set_drawing
from solver.layout.parts import Level
from solver.quantities.units import System
from tests.sketch.sheets import DAY, options_of
from tests.thorough import first

pytestmark = pytest.mark.usefixtures("qapp")


def test_no_rule_is_drawn_across_the_air_column(monkeypatch: pytest.MonkeyPatch) -> None:
    """On an upright page, where text stands under it."""
    sheet = _dressed(
        _sheet(options_of("winter-press")[:1], SheetWish(), Level.MINIMUM, System.SI), LIGHT, DAY, None
    )
    drawn: list[tuple[XY, XY]] = []
    monkeypatch.setattr(Pencil, "lines", lambda pencil, lines, *pen: drawn.extend(lines))
    for name in ("paint_panel", "paint_column"):
        monkeypatch.setattr(sheet_single, name, lambda *args, **kwargs: None)
    image = QImage(8, 8, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    drawing_page(sheet, [], Folio(1, 1))(painter, 595.0, 842.0, 1.0)
    painter.end()
    placed = set_drawing(Ruler(), sheet, [], Folio(1, 1), 595.0, 842.0)
    column, foot = placed.body.x + placed.left, placed.body.y + placed.foot
    across = [one[1] for one, other in drawn if one[1] == other[1] and one[0] < column < other[0]]
    assert across
    assert min(across) >= foot - 0.01


@pytest.mark.parametrize("name", first(["over-the-bund-wall", "baler-flooded", "header-two-pumps"]))
def test_on_an_upright_page_the_drawing_is_as_wide_as_the_page_where_it_is_larger_so(name: str) -> None:
    """A long line came out at half its size in half of the page."""
    sheet = _sheet(options_of(name)[:1], SheetWish(), Level.MINIMUM, System.SI)
    placed = set_drawing(Ruler(), sheet, [], Folio(1, 1), *A4)
    beside = _set_in(Ruler(), sheet, [], placed.body, in_text=False)
    assert placed.view.scale >= 1.3 * beside.view.scale
    assert placed.drawn.width == placed.body.width
    assert placed.drawn.height >= LEAST_DRAWING
    blocks = [block for column in placed.band.columns for block in column]
    assert isinstance(blocks[0], Picture)
    assert not any(isinstance(block, Picture) for block in blocks[1:])


A4 = (793.7, 1122.5)


def test_a_column_under_a_verdict_as_read_says_that_it_is_as_drawn() -> None:
    """It holds a margin where the verdict over it says by how much the pump is over."""
    for name, said in (("strainer-over-a-year", "strainer as drawn"), ("winter-press", "")):
        sheet = _sheet(options_of(name)[:1], SheetWish(), Level.MINIMUM, System.SI)
        assert _screens_drawn(sheet.panels[0]) == said
