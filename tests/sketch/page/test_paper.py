"""Papers and their sizes, and what a sheet is written to."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtGui import QImage

from sketch.page.paper import pages_at, paths_of, written_files_text
from sketch.page.sheet import SheetError, write_sheet
from sketch.page.sheet_parts import SheetWish, parts_of
from tests.sketch.sheets import DAY, options_of, pages, small_options, written
from tests.thorough import first

pytestmark = pytest.mark.usefixtures("qapp")


def test_letter_is_for_us_customary_drawings_unless_asked_otherwise() -> None:
    for name, wide in (("carriage-at-altitude", 279.4), ("wash-water-npsh", 297.0)):
        millimetres = float(PdfReader(written(name, pages=1)).pages[0].mediabox.width) / 72 * 25.4
        assert millimetres == pytest.approx(wide, abs=0.4)


CARRIAGE = "carriage-at-altitude"
FIRST = SheetWish(pages=1)


def test_every_font_is_embedded() -> None:
    path = written(CARRIAGE)
    seen = 0
    for page in PdfReader(path).pages:
        for font in page["/Resources"]["/Font"].values():
            (inner,) = font.get_object()["/DescendantFonts"]
            descriptor = inner.get_object()["/FontDescriptor"].get_object()
            assert "/FontFile2" in descriptor or "/FontFile3" in descriptor
            seen += 1
    assert seen


@pytest.mark.parametrize("upright", first([False, True]))
@pytest.mark.parametrize(
    ("paper", "size"),
    [("A4", (297.0, 210.0)), ("A3", (420.0, 297.0)), ("Letter", (279.4, 215.9)), ("Tabloid", (431.8, 279.4))],
)
def test_the_paper_has_the_size_that_was_asked_for(
    paper: str, size: tuple[float, float], upright: bool
) -> None:
    (page,) = PdfReader(written(CARRIAGE, paper=paper, upright=upright, pages=1)).pages
    millimetres = (float(page.mediabox.width) / 72 * 25.4, float(page.mediabox.height) / 72 * 25.4)
    assert millimetres == pytest.approx(size[::-1] if upright else size, abs=0.4)


@pytest.mark.thorough
def test_svg_is_drawn_with_text_that_stays_text(tmp_path: Path) -> None:
    roots = [
        ET.parse(path).getroot() for path in write_sheet(options_of(CARRIAGE)[:1], tmp_path / "sheet.svg")
    ]
    texts = [
        element.text or "" for root in roots for element in root.iter("{http://www.w3.org/2000/svg}text")
    ]
    assert any("Ledger of carriage" in text for text in texts)
    assert any("Steady flow" in text for text in texts)
    assert not any("nan" in text for text in texts)
    assert {root.get("viewBox") for root in roots} == {"0 0 1056 816"}


@pytest.mark.thorough
def test_pictures_are_a_file_a_page(tmp_path: Path) -> None:
    pictures = write_sheet(small_options(), tmp_path / "sheet.png", SheetWish(pages=2))
    assert [path.name for path in pictures] == ["sheet-1.png", "sheet-2.png"]
    assert sorted(tmp_path.glob("*.png")) == sorted(pictures)
    for path in pictures:
        image = QImage(str(path))
        assert image.width() == pytest.approx(297.0 / 25.4 * 192, abs=1)
        assert image.height() == pytest.approx(210.0 / 25.4 * 192, abs=1)
        assert image.text("Title") == small_options()[0].judgement.layout.title


def test_one_page_keeps_its_name_and_several_are_told(tmp_path: Path) -> None:
    path = tmp_path / "out.png"
    assert paths_of(path, 1) == (path,)
    several = paths_of(path, 3)
    assert [each.name for each in several] == ["out-1.png", "out-2.png", "out-3.png"]
    assert written_files_text([path]) == str(path)
    assert written_files_text(several) == f"{several[0]} to out-3.png, a page each"


def test_what_cannot_be_written_is_said_and_leaves_nothing_behind(tmp_path: Path) -> None:
    with pytest.raises(SheetError, match=r"sheet\.pdf"):
        write_sheet(small_options(), tmp_path / "no folder" / "sheet.pdf", FIRST)
    with pytest.raises(SheetError):
        write_sheet(small_options(), tmp_path / ("x" * 300 + ".pdf"), FIRST)
    folder = tmp_path / "folder.pdf"
    folder.mkdir()
    with pytest.raises(SheetError):
        write_sheet(small_options(), folder, FIRST)
    assert list(tmp_path.iterdir()) == [folder]


def test_an_existing_file_is_kept_when_the_new_one_cannot_be_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "sheet.pdf"
    path.write_bytes(b"the old one")

    def fail(*_: object) -> None:
        raise SheetError("the page could not be begun")

    monkeypatch.setattr("sketch.page.paper._begin", fail)
    with pytest.raises(SheetError):
        write_sheet(small_options(), path, FIRST)
    assert path.read_bytes() == b"the old one"


@pytest.mark.thorough
def test_pages_of_a_longer_sheet_go_and_files_of_others_stay(tmp_path: Path) -> None:
    path = tmp_path / "sheet.svg"
    long = write_sheet(small_options(), path, SheetWish(pages=3))
    short = write_sheet(small_options(), path, SheetWish(pages=2))
    assert len(long) > len(short) > 1
    assert sorted(tmp_path.iterdir()) == sorted(short)
    assert pages_at(path) == short
    stranger = tmp_path / "other-2.svg"
    stranger.write_bytes(b"a photograph")
    with pytest.raises(SheetError, match=r"other-2\.svg is there already.*; choose another name$"):
        write_sheet(small_options(), tmp_path / "other.svg", SheetWish(pages=2))
    assert stranger.read_bytes() == b"a photograph"
    assert not (tmp_path / "other-1.svg").exists()


@pytest.mark.thorough
@pytest.mark.parametrize("ending", first(["pdf", "png"]))
def test_a_file_that_is_no_sheet_is_kept_unless_it_may_be_replaced(ending: str, tmp_path: Path) -> None:
    path = tmp_path / f"out.{ending}"
    path.write_bytes(b"a photograph")
    with pytest.raises(SheetError, match=r"is there already.*another name, or give --replace"):
        write_sheet(small_options(), path, SheetWish(pages=1, replace=False))
    assert path.read_bytes() == b"a photograph"
    write_sheet(small_options(), path, SheetWish(pages=1))
    once = path.read_bytes()
    write_sheet(small_options(), path, SheetWish(pages=1, replace=False))  # a sheet is one again
    assert len(path.read_bytes()) == pytest.approx(len(once), rel=0.01)


@pytest.mark.thorough
def test_given_a_date_a_pdf_has_the_same_bytes_again(tmp_path: Path) -> None:
    paths = [tmp_path / name for name in ("one.pdf", "two.pdf")]
    for path in paths:
        write_sheet(small_options(), path, FIRST, date=DAY)
    one, two = (path.read_bytes() for path in paths)
    assert one == two


def test_bookmarks_lead_to_the_pages_that_the_contents_name() -> None:
    reader = PdfReader(written(CARRIAGE, compared=True))
    marks = {mark.title: reader.get_destination_page_number(mark) + 1 for mark in reader.outline}
    assert marks.pop("To decide on") == 1
    first, *_ = pages(written(CARRIAGE, compared=True))
    listed = first.partition("Behind this page: ")[2]
    for title, page in marks.items():
        assert listed.partition(title)[2].partition("p. ")[2].startswith(str(page)), title
    nothing_of = ("Continued from the first page", "Readings in short")
    usual = [part.title for part in parts_of(frozenset())]
    assert sorted(marks) == sorted(title for title in usual if title not in nothing_of)
    assert list(marks.values()) == sorted(marks.values())  # a part that fits on an earlier page stands there
