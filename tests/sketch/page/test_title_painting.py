"""The title block is as high as what it says, and cuts nothing of it."""

from __future__ import annotations

import pytest

from sketch.drawing.pencil import SMALL, Ruler
from sketch.page.title_painting import LEAST, TitleText, field_cells, title_height

pytestmark = pytest.mark.usefixtures("qapp")

FEW = (("Fluid", "Mineral oil, ISO VG 46"), ("Site", "1100 ft, 28.8 inHg abs"), ("Scale", "1 : 48"))
MANY = (("Client", "a cooperative of many names " * 6), ("Project", "in several parts " * 10), *FEW * 3)


def test_a_short_one_keeps_its_usual_height_and_a_long_one_grows() -> None:
    ruler = Ruler()
    short = title_height(ruler, TitleText("Press", "As drawn", FEW), 1000.0)
    long = title_height(ruler, TitleText("Press", "As drawn", MANY, ("Hill Hydraulics",)), 1000.0)
    assert short == LEAST < long
    assert long < title_height(ruler, TitleText("Press", "As drawn", MANY, ("Hill Hydraulics",)), 600.0)


USUAL = (
    ("Fluid", "Mineral oil, ISO VG 68, 60.0 °F"),
    ("File", "header-two-pumps.toml"),
    ("Site", "820 ft, 29.0 inHg abs"),
    ("Pump", "main"),
    ("Level", "minimum"),
    ("Scale", "1 : 60"),
    ("Date", "2026-11-27"),
    ("Page", "1 of 6"),
)


def test_the_title_gives_way_where_the_fields_take_a_row_less_for_it() -> None:
    ruler, width = Ruler(), 780.0  # about that of an upright Letter
    _, narrow = field_cells(ruler, USUAL, 0.6 * width - 22)
    assert title_height(ruler, TitleText("Main and pilot pump", "As drawn", USUAL), width) < narrow - 30


def test_a_long_one_is_set_closer_where_the_page_has_less_room_for_it() -> None:
    ruler, text = Ruler(), TitleText("Press", "As drawn", MANY, ("Hill Hydraulics",))
    usual = title_height(ruler, text, 1000.0)
    assert title_height(ruler, text, 1000.0, usual) == usual
    assert title_height(ruler, text, 1000.0, usual - 1) < 0.85 * usual


@pytest.mark.parametrize("close", [False, True])
@pytest.mark.parametrize("width", [420.0, 640.0, 1000.0])
def test_no_field_is_cut_none_is_over_another_and_none_passes_the_edge(width: float, close: bool) -> None:
    ruler = Ruler()
    cells, high = field_cells(ruler, MANY, width, close=close)
    assert [(cell.name, " ".join(cell.lines)) for cell in cells] == [
        (name, " ".join(text.split())) for name, text in MANY
    ]
    boxes = []
    for cell in cells:
        name = ruler.width(cell.name, SMALL)
        assert not close or name < cell.beside
        wide = max(name, *(cell.beside + ruler.width(text, SMALL) for text in cell.lines))
        boxes.append((cell.x, cell.y, cell.x + wide, cell.y + 15 * (len(cell.lines) + (not close))))
    assert all(right <= width and foot <= high for _, _, right, foot in boxes)
    for number, (left, top, right, foot) in enumerate(boxes):
        for other_left, other_top, other_right, other_foot in boxes[number + 1 :]:
            apart = right <= other_left or other_right <= left or foot <= other_top or other_foot <= top
            assert apart
