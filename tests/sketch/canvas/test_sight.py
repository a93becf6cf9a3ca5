"""What the sheet shows: fitted until it is zoomed or moved, and kept in sight."""

from __future__ import annotations

import pytest

from sketch.canvas.sight import Sight
from sketch.editing import edits
from sketch.model.document import Document
from tests.drawings import stand


class Sheet:
    def width(self) -> int:
        return 800

    def height(self) -> int:
        return 600

    def in_sight(self) -> list[tuple[float, float]]:
        return []


def test_a_fitted_view_follows_what_outgrows_it_and_a_zoomed_one_does_not() -> None:
    document = Document()
    document.begin(stand())
    sight = Sight(document, Sheet(), Sheet())
    fitted = sight.view
    sight.keep()
    assert sight.view is fitted
    document.apply("up", edits.move_part(document.layout, "press", 2.1, 5.0))
    sight.keep()
    assert sight.view.scale < fitted.scale
    sight.zoom(2.0)
    zoomed = sight.view
    assert zoomed.world(400, 300) == pytest.approx(sight.view.world(400, 300))
    sight.refit()
    assert sight.view is zoomed
    sight.pan(10.0, 0.0)
    assert sight.view.x0 == pytest.approx(zoomed.x0 + 10.0)
    sight.fit()
    assert sight.view.scale < zoomed.scale
    for _ in range(60):
        sight.zoom(3.0, (10.0, 10.0))
    assert sight.view.scale == pytest.approx(40_000.0)


def test_what_would_be_cut_by_the_edge_is_fitted_again() -> None:
    document = Document()
    document.begin(stand())
    sight = Sight(document, Sheet(), Sheet())
    x, y = sight.view.world(400.0, 8.0)
    document.apply("up", edits.move_part(document.layout, "press", x, y))
    assert sight.view.device(x, y)[1] == pytest.approx(8.0, abs=1.0), "within the sheet, its symbol is cut"
    sight.keep()
    assert sight.view.device(x, y)[1] > 18.0
    kept = sight.view
    sight.keep()
    assert sight.view is kept, "a fitted view leaves more than is asked for"


def test_what_is_out_of_sight_is_brought_to_the_middle_and_what_is_in_sight_stays() -> None:
    document = Document()
    document.begin(stand())
    sight = Sight(document, Sheet(), Sheet())
    before = sight.view
    sight.bring([(10.0, 10.0), (790.0, 590.0)])
    assert sight.view is before
    far = before.world(900.0, 100.0), before.world(1100.0, 300.0)
    sight.bring([(900.0, 100.0), (1100.0, 300.0)])
    (left, top), (right, bottom) = (sight.view.device(*each) for each in far)
    assert ((left + right) / 2, (top + bottom) / 2) == pytest.approx((400.0, 300.0))
    assert sight.view.scale == before.scale


def test_a_place_stays_in_the_middle_of_a_sheet_of_any_size_until_the_hand_moves_it() -> None:
    document = Document()
    document.begin(stand())
    sheet = Sheet()
    sight = Sight(document, sheet, sheet)
    assert sight.place is None
    sight.zoom(2.0, (100.0, 100.0))
    place = sight.place
    assert place is not None
    sight.fit()
    sight.show(place)
    assert sight.place == pytest.approx(place)
    sheet.width = lambda: 1200  # type: ignore[method-assign]
    sight.refit()
    assert sight.view.world(600.0, 300.0) == pytest.approx((place.x, place.y))
    sight.pan(50.0, 0.0)
    before = sight.view
    sight.refit()
    assert sight.view is before


def test_a_change_outside_the_drawing_is_held_while_it_is_pointed_at() -> None:
    document = Document()
    document.begin(stand())
    sight = Sight(document, Sheet(), Sheet())
    whole = sight.view
    near = edits.move_part(document.layout, "press", 2.1, 1.0)
    far = edits.move_part(document.layout, "press", -9.0, 1.0)
    sight.frame(near)
    assert sight.view == whole
    sight.frame(far)
    assert 0.0 < sight.view.device(-9.0, 1.0)[0] < 800.0
    sight.frame(near)
    assert sight.view == whole
    sight.frame(far)
    sight.frame(None)
    assert sight.view is whole, "and not fitted to what has been moved in it since"
    sight.zoom(2.0)
    zoomed = sight.view
    sight.frame(far)
    assert sight.view is zoomed, "what the hand zoomed stays"


def test_a_sheet_that_becomes_a_little_lower_under_a_notice_stays_as_it_was() -> None:
    document = Document()
    document.begin(stand())
    sheet = Sheet()
    sight = Sight(document, sheet, sheet)
    fitted = sight.view
    document.apply("left", edits.move_part(document.layout, "press", 1.9, 1.6))
    sheet.height = lambda: 560  # type: ignore[method-assign]
    sight.refit()
    assert sight.view is fitted
    sheet.height = lambda: 400  # type: ignore[method-assign]
    sight.refit()
    assert sight.view is not fitted


def test_a_zoomed_sheet_follows_a_part_that_a_typed_value_puts_out_of_sight() -> None:
    document = Document()
    document.begin(stand())
    sight = Sight(document, Sheet(), Sheet())
    before = document.layout
    x, y = (each.si for each in before.pumps["press"].at)
    sight.zoom(1.2, sight.view.device(x, y))
    zoomed = sight.view
    document.apply("near", edits.move_part(before, "press", x, y + 0.01))
    sight.follow()
    assert sight.view is zoomed
    before = document.layout
    document.apply("far", edits.move_part(before, "press", x, y + 9.0))
    sight.follow()
    assert sight.view.scale == zoomed.scale
    across, down = sight.view.device(x, y + 9.0)
    assert 0 < across < 800
    assert 0 < down < 600
