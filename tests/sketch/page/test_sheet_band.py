"""The text of the first page: as long as it fits, and no longer than the drawing has room to give."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from pypdf import PdfReader

from sketch.drawing.pencil import Ruler
from sketch.page import sheet_band, sheet_first
from sketch.page.blocks import Paragraph, total_height
from sketch.page.sheet import _sheet
from sketch.page.sheet_band import Room, _column, _fitted, _fitting, _to_whole_sentences, set_band
from sketch.page.sheet_first import Telling
from sketch.page.sheet_parts import SheetWish
from solver.layout.parts import Level
from solver.quantities.units import System
from tests.sketch.sheets import NAMES, options_of, pages, written
from tests.thorough import first

pytestmark = pytest.mark.usefixtures("qapp")


def test_a_page_that_is_full_ends_with_a_whole_sentence() -> None:
    whole = Paragraph("Taken out: strainer. Filter the fluid elsewhere. Drain it.", "Cautions:")
    first = Paragraph("One. Two.")
    torn = Paragraph("Taken out: strainer. Filter the fluid", "Cautions:")
    assert [each.text for each in _to_whole_sentences([first, torn], [first, whole])] == [
        "One. Two.",
        "Taken out: strainer.",
    ]
    assert _to_whole_sentences([first, Paragraph("Taken")], [first, whole]) == [first]
    steps = Paragraph("1. Ask the maker. 2. Build it. 3. Fill it.", "Order of work:")
    for end in ("3.", "3. Fill"):
        kept = _to_whole_sentences([Paragraph(f"1. Ask the maker. 2. Build it. {end}", steps.lead)], [steps])
        assert [each.text for each in kept] == ["1. Ask the maker. 2. Build it."]
    assert _to_whole_sentences([first, Paragraph("elsewhere. Drain it.")], [first, whole])[1:] != []


@pytest.mark.parametrize("alone", [False, True])
def test_the_tighter_text_is_taken_where_the_drawing_is_larger_over_it(
    alone: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A page that stands alone tells more: what it leaves out is on no page behind it."""
    sheet = replace(_sheet(options_of("winter-press"), SheetWish(), Level.MINIMUM, System.SI), alone=alone)
    monkeypatch.setattr(sheet_first, "TABLE_AFTER", (1,))  # one order
    high = {}
    for most in (2, 1):
        monkeypatch.setattr(sheet_band, "TELLINGS", (Telling(most),))
        band = _fitting(Ruler(), sheet, Room(1000.0, 2000.0, 2000.0, 3, lambda text: 1.0))
        assert band is not None
        high[most] = band.high
    assert high[1] < high[2]
    monkeypatch.setattr(sheet_band, "TELLINGS", (Telling(2), Telling(1)))
    room = Room(1000.0, 2000.0, 2000.0, 3, lambda text: 2.0 if text <= high[1] else 1.0)
    chosen = _fitting(Ruler(), sheet, room)
    assert chosen is not None
    assert chosen.high == high[2 if alone else 1]


@pytest.mark.parametrize(("gain", "size"), [(1.5, 0.97), (1.1, 1.0)])
def test_the_text_is_set_smaller_where_the_drawing_is_much_larger_over_it(
    gain: float, size: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    sheet = _sheet(options_of("winter-press"), SheetWish(), Level.MINIMUM, System.SI)
    monkeypatch.setattr(sheet_band, "TELLINGS", (Telling(1),))
    monkeypatch.setattr(sheet_first, "TABLE_AFTER", (1,))  # one order
    monkeypatch.setattr(sheet_band, "LARGER_TYPE", ())
    room = Room(1000.0, 2000.0, 2000.0, 3, lambda text: 1.0)
    usual = set_band(Ruler(), sheet, room)
    assert usual.size == 1.0
    shorter = replace(room, scale_over=lambda text: gain if text < usual.high else 1.0)
    assert set_band(Ruler(), sheet, shorter).size == size


def test_the_parts_of_what_it_buys_give_way_to_a_much_larger_drawing_and_to_no_other(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    sheet = _sheet(options_of("winter-press"), SheetWish(), Level.MINIMUM, System.SI)
    tellings = (Telling(1), Telling(0, short=True))
    monkeypatch.setattr(sheet_band, "TELLINGS", tellings)
    room = Room(1000.0, 2000.0, 2000.0, 3, lambda text: 1.0)
    by_part, short = (_fitted(Ruler(), sheet, room, each) for each in tellings)
    assert by_part is not None
    assert short is not None
    assert short.high < by_part.high
    for gain, by_parts in ((1.2, True), (1.3, False)):
        larger = replace(room, scale_over=lambda text, gain=gain: gain if text <= short.high else 1.0)
        band = _fitting(Ruler(), sheet, larger)
        assert band is not None
        assert band.by_parts is by_parts


def test_what_it_buys_follows_what_changes_unless_the_drawing_is_larger_otherwise() -> None:
    heights = [320.0, 300.0]
    room = Room(1000.0, 400.0, 400.0, 3, lambda text: 1.0)
    assert sheet_band._usual_order(heights, 400.0, room) == 0
    assert sheet_band._usual_order(heights, 310.0, room) == 0, "where the drawing has that to give"
    full = replace(room, most=310.0)
    assert sheet_band._usual_order(heights, 310.0, full) == 1, "where the first does not fit"
    assert sheet_band._usual_order(heights, 290.0, room) == 1, "where none fits"
    larger = replace(room, scale_over=lambda text: 2.0 if text < 310.0 else 1.0)
    assert sheet_band._usual_order(heights, 400.0, larger) == 1


def test_what_it_buys_follows_what_changes_where_the_page_has_room_for_it() -> None:
    (page,) = pages(written("carriage-at-altitude", paper="Tabloid", compared=True, pages=1))
    assert page.index("What changes") < page.index("What it buys") < page.index("What remains")


def test_empty_lines_are_filled_with_what_the_result_rests_on(monkeypatch: pytest.MonkeyPatch) -> None:
    """The text grows no higher for it: on some pages there are such lines, on some none."""
    drawn = _sheet(options_of("wash-water-npsh"), SheetWish(), Level.MINIMUM, System.SI)
    sheet = replace(drawn, alone=True)  # else they stand behind it
    monkeypatch.setattr(sheet_band, "TELLINGS", (Telling(1),))
    gained = []
    for width in range(1680, 1840, 10):
        seen, room = [], Room(width, 2000.0, 2000.0, 4, lambda text: 1.0)
        for most in (0, 8):
            monkeypatch.setattr(sheet_band, "MOST_MORE", most)
            band = set_band(Ruler(), sheet, room)
            wide = _column(Ruler(), room)
            assert all(total_height(column, Ruler(), wide) <= band.high for column in band.columns)
            text = " ".join(
                each.text for column in band.columns for each in column if isinstance(each, Paragraph)
            )
            left = re.search(r"(\d+) more assumptions?", text)
            seen.append(int(left[1]) if left else 0)
        gained.append(seen[0] - seen[1])
    assert min(gained) == 0 < max(gained)


def test_the_type_grows_as_far_as_the_drawing_stays_as_large(monkeypatch: pytest.MonkeyPatch) -> None:
    """A scale goes by steps, and paper over text that is no higher than the next step was left empty."""
    sheet = _sheet(options_of("winter-press"), SheetWish(), Level.MINIMUM, System.SI)
    monkeypatch.setattr(sheet_band, "TELLINGS", (Telling(1),))
    monkeypatch.setattr(sheet_first, "TABLE_AFTER", (1,))  # one order
    room = Room(1000.0, 2000.0, 2000.0, 3, lambda text: 1.0)
    usual = _fitting(Ruler(), sheet, room)
    assert usual is not None
    sizes = []
    for share in (1.0, 1.3):
        step = usual.high * share
        band = set_band(Ruler(), sheet, replace(room, scale_over=lambda text, step=step: float(text <= step)))
        assert band.high <= step
        sizes.append(band.size)
    assert 1.0 <= sizes[0] < sizes[1]


@pytest.mark.parametrize("name", first(NAMES, 1))
@pytest.mark.parametrize("paper", first(("A4", "Letter"), 1))
@pytest.mark.parametrize("upright", first((False, True), 1))
def test_no_letter_of_it_is_under_eight_points(name: str, paper: str, upright: bool) -> None:
    """Levels had 6.7, and on full pages all that was to be decided by had 7.6."""
    sizes = set[float]()

    def seen(text: str, ctm: list[float], matrix: list[float], _font: object, size: float) -> None:
        if text.strip():
            sizes.add(round(abs(size * ctm[3] * matrix[3]), 1))

    PdfReader(written(name, paper=paper, upright=upright, compared=True)).pages[0].extract_text(
        visitor_text=seen
    )
    assert sizes
    assert min(sizes) >= 8.0


def test_a_page_by_itself_is_set_smaller_only_for_a_drawing_that_is_far_larger(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    drawn, *_ = options_of("winter-press")
    sheet = _sheet((drawn,), SheetWish(compare=()), Level.MINIMUM, System.SI)
    monkeypatch.setattr(sheet_band, "TELLINGS", (Telling(1),))
    monkeypatch.setattr(sheet_band, "LARGER_TYPE", ())
    room = Room(620.0, 2000.0, 2000.0, 2, lambda text: 1.0)
    for alone, gain, smaller in ((False, 1.5, True), (True, 1.5, False), (True, 1.7, True)):
        shown = replace(sheet, alone=alone)
        usual = set_band(Ruler(), shown, room)
        over = replace(room, scale_over=lambda text, at=usual.high, more=gain: more if text < at else 1.0)
        assert (set_band(Ruler(), shown, over).size < usual.size) is smaller
